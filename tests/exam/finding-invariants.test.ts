import fc from 'fast-check';
import fhirpath from 'fhirpath';
import r4Model from 'fhirpath/fhir-context/r4';
import { describe, expect, it } from 'vitest';
import {
  codesOfSites,
  findingRules,
  gripObservable,
  LATERALITY_URL,
  lateralityCode,
  lookFeelObservable,
  observableCodesOfSide,
  observables,
  SIDELESS_QUALIFIERS,
  SYSTEMS,
  type CodeReference,
} from '../../src/catalogue/index.js';
import { nativeInvariants, toObservations } from '../../src/exam/index.js';
import { stringifyJson } from '../../src/fhir/index.js';
import { arbitraryExam } from './arbitrary-exam.js';
import { countingContext } from './counting-context.js';

type Plain = Readonly<Record<string, unknown>>;

const sides = ['left', 'right'] as const;
const qualifiers = [
  ...sides.map(lateralityCode),
  lateralityCode('both'),
  lateralityCode('midline'),
  ...SIDELESS_QUALIFIERS,
];
const sites = [
  ...codesOfSites({ isPaired: true }),
  ...codesOfSites({ isPaired: false }),
  ...sides.flatMap((side) => codesOfSites({ side })),
];
const codes = [
  ...observables.flatMap(({ codings }) => codings),
  ...sides.flatMap((side) => observableCodesOfSide(side)),
];

const pick = (pool: readonly CodeReference[]): fc.Arbitrary<Plain> =>
  fc.oneof(
    { weight: 8, arbitrary: fc.constantFrom(...pool).map(({ system, code }) => ({ system, code })) },
    { weight: 1, arbitrary: fc.constantFrom(...pool).map(({ code }) => ({ code })) },
    { weight: 1, arbitrary: fc.constantFrom(...pool).map(({ system }) => ({ system })) },
    { weight: 1, arbitrary: fc.constant({ system: 'http://example.org/codes', code: '7771000' }) },
  );
const concept = (pool: readonly CodeReference[]): fc.Arbitrary<Plain> =>
  fc.oneof(
    fc.record({ coding: fc.array(pick(pool), { minLength: 1, maxLength: 3 }) }),
    fc.constant({ text: 'in words' }),
  );
const extension = fc.oneof(
  fc.record({
    url: fc.constantFrom(LATERALITY_URL, LATERALITY_URL, 'http://example.org/other'),
    valueCodeableConcept: concept(qualifiers),
  }),
  fc.constant({ url: LATERALITY_URL, valueString: 'left' }),
);
const bodySite = fc
  .tuple(concept([...sites, ...qualifiers]), fc.array(extension, { maxLength: 2 }))
  .map(([site, extensions]) => (extensions.length === 0 ? site : { extension: extensions, ...site }));

/** Observations of any site, side, time and content, right and wrong alike. */
const anyObservation: fc.Arbitrary<Plain> = fc.record(
  {
    resourceType: fc.constant('Observation'),
    code: concept(codes),
    bodySite,
    effectiveDateTime: fc.constantFrom('2026', '2026-03', '2026-03-05', '2026-03-05T08:10:00-05:00'),
    _effectiveDateTime: fc.constant({ id: 'e1' }),
    valueString: fc.constant('full'),
    _valueBoolean: fc.constant({ id: 'v1' }),
    dataAbsentReason: fc.constant({ text: 'declined' }),
    component: fc.constant([{ code: { text: 'swelling' } }]),
    hasMember: fc.constant([{ reference: 'Observation/o1' }]),
  },
  { requiredKeys: ['resourceType', 'code'] },
);

const written: fc.Arbitrary<Plain> = arbitraryExam.chain((exam) =>
  fc
    .constantFrom(...toObservations(exam, countingContext()))
    .map((resource) => JSON.parse(stringifyJson(resource)) as Plain),
);

// FHIRPath as HL7's own JavaScript engine (fhirpath.js) evaluates it is what a receiver's validator will say.
describe.each(findingRules)('$key', ({ key, expression }) => {
  const inFhirPath = fhirpath.compile({ base: 'Observation', expression }, r4Model);
  const inCode = nativeInvariants.find((native) => native.key === key);
  const agree = (observation: Plain): void => {
    const [answer] = inFhirPath(observation, {}) as readonly unknown[];
    expect(inCode?.holds(observation, undefined as never)).toBe(answer === undefined || answer === true);
  };

  it('is in code what it is in FHIRPath, for Observations of any site and side', () => {
    expect(inCode?.expression).toBe(expression);
    fc.assert(fc.property(anyObservation, agree), { numRuns: 3000 });
  });

  it('is in code what it is in FHIRPath, for Observations that are written here', () => {
    fc.assert(fc.property(written, agree), { numRuns: 200 });
  });
});

describe('an Observation with a side', () => {
  const holdsAt = (key: string, observation: Plain): boolean | undefined =>
    nativeInvariants.find((native) => native.key === key)?.holds(observation, undefined as never);
  const snomed = (code: string): Plain => ({ system: SYSTEMS.snomed, code });
  const side = (code: string): Plain => ({
    url: LATERALITY_URL,
    valueCodeableConcept: { coding: [snomed(code)] },
  });
  const at = (code: string, ...extension: readonly Plain[]): Plain => ({
    code: { text: 'flexion' },
    bodySite: { coding: [snomed(code)], ...(extension.length > 0 && { extension }) },
  });

  // SNOMED CT codes as read in published sources: 6757004 right knee, 72696002 knee, 122494005 cervical spine,
  // 53620006 temporomandibular joint; LOINC 83173-5 left grip. Qualifiers: HL7 observation-structureLaterality.
  it.each([
    ['msk-side-1', 'the right knee on the left', at('6757004', side('7771000')), false],
    ['msk-side-1', 'the right knee on the right', at('6757004', side('24028007')), true],
    [
      'msk-side-1',
      'left grip at a right site',
      {
        ...at('78791008'),
        code: { coding: gripObservable('left').codings },
      },
      false,
    ],
    ['msk-side-2', 'a knee without a side', at('72696002'), false],
    ['msk-side-2', 'a right knee by its code alone', at('6757004'), false],
    ['msk-side-2', 'a knee on the right', at('72696002', side('24028007')), true],
    ['msk-side-2', 'a knee on both sides', at('72696002', side('51440002')), false],
    ['msk-side-2', 'the jaw, opened', at('53620006'), true],
    [
      'msk-side-2',
      'the jaw, looked at and felt without a side',
      { ...at('53620006'), code: { coding: lookFeelObservable('jaw').codings } },
      false,
    ],
    ['msk-side-3', 'unilateral', at('72696002', side('66459002')), false],
    ['msk-side-3', 'both', at('72696002', side('51440002')), false],
    ['msk-side-3', 'unilateral beside the site', { bodySite: { coding: [snomed('66459002')] } }, false],
    ['msk-side-4', 'the neck on the left', at('122494005', side('7771000')), false],
    ['msk-side-4', 'the neck in the midline', at('122494005', side('399488007')), true],
  ])('by %s: %s', (key, _what, observation, holds) => {
    expect(holdsAt(key, observation)).toBe(holds);
  });
});
