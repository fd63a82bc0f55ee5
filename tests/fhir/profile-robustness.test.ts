import fc from 'fast-check';
import type { StructureDefinition } from 'fhir/r4.js';
import { LosslessNumber } from 'lossless-json';
import { describe, expect, test } from 'vitest';
import {
  type ConformanceResource,
  compileValidator,
  DefinitionFault,
  r4Definitions,
} from '../../src/fhir/index.js';
import { extensionOf, faultsOf, HERE, observation, profileOf, valueSetOf } from './profile-of.js';

const set = valueSetOf('set', { include: [{ system: 'urn:a', concept: [{ code: 'a' }] }] });
const note = extensionOf('note', [
  { path: 'Extension', max: '1' },
  { path: 'Extension.value[x]', type: [{ code: 'string' }] },
]);

/** One of each facet, on the elements that the values below stand on. */
const everyFacet = profileOf('Observation', [
  {
    path: 'Observation',
    constraint: [{ key: 'our-1', severity: 'error', human: 'One', expression: 'component.count() < 3' }],
  },
  {
    path: 'Observation.extension',
    sliceName: 'note',
    min: 1,
    type: [{ code: 'Extension', profile: [note.url] }],
  },
  { path: 'Observation.status', fixedCode: 'final' },
  {
    path: 'Observation.category',
    slicing: { discriminator: [{ type: 'pattern', path: '$this' }], rules: 'closed' },
  },
  {
    path: 'Observation.category',
    sliceName: 'exam',
    min: 1,
    patternCodeableConcept: { coding: [{ code: 'exam' }] },
  },
  { path: 'Observation.code', binding: { strength: 'required', valueSet: set.url ?? '' } },
  { path: 'Observation.code.text', maxLength: 3 },
  {
    path: 'Observation.subject',
    type: [
      {
        code: 'Reference',
        targetProfile: ['http://hl7.org/fhir/StructureDefinition/Patient'],
        aggregation: ['contained'],
      },
    ],
  },
  { path: 'Observation.effective[x]', min: 1, minValueDateTime: '2024' },
  {
    path: 'Observation.performer',
    slicing: { discriminator: [{ type: 'type', path: 'resolve()' }], rules: 'open' },
  },
  {
    path: 'Observation.performer',
    sliceName: 'self',
    max: '1',
    type: [{ code: 'Reference', targetProfile: ['http://hl7.org/fhir/StructureDefinition/Patient'] }],
  },
  { path: 'Observation.value[x]', type: [{ code: 'Quantity' }, { code: 'string' }] },
  { path: 'Observation.valueQuantity.value', minValueDecimal: 0, maxValueDecimal: 10 },
  {
    path: 'Observation.component',
    slicing: { discriminator: [{ type: 'exists', path: 'value' }], rules: 'openAtEnd', ordered: true },
  },
  { path: 'Observation.component', sliceName: 'measured' },
  { path: 'Observation.component.value[x]', min: 1 },
]);
const conformance: readonly ConformanceResource[] = [everyFacet, note, set];
const validate = compileValidator(r4Definitions, { conformance });

const names = [
  ...[
    'meta',
    'extension',
    'status',
    '_status',
    'category',
    'code',
    'text',
    'coding',
    'subject',
    'reference',
    'contained',
  ],
  ...[
    'effectiveDateTime',
    'performer',
    'valueQuantity',
    'value',
    'valueString',
    '_valueString',
    'component',
    'profile',
  ],
  ...['url', 'id', 'resourceType', 'system', '__proto__', 'toString', 'modifierExtension', 'type'],
];
const leaf = fc.oneof(
  fc.constantFrom(
    null,
    true,
    0,
    -1,
    11,
    '',
    'a',
    'final',
    '#a',
    'Patient/a',
    '2023',
    'exam',
    'Patient',
    note.url,
  ),
  fc.constantFrom('1e999999999', '-0.0', '3.10').map((text) => new LosslessNumber(text)),
);
const { tree } = fc.letrec<{ tree: unknown }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 5 },
    leaf,
    fc.array(tie('tree'), { maxLength: 4 }),
    fc.dictionary(fc.constantFrom(...names), tie('tree'), { maxKeys: 8 }),
  ),
}));

describe('profiles', () => {
  test('never throw, whatever stands in a resource', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...names), tree, { maxKeys: 12 }), (members) => {
        const issues = validate({ ...members, resourceType: 'Observation' }, undefined, [everyFacet.url]);
        expect(issues.every(({ diagnostics }) => diagnostics !== '')).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });

  test('end on a resource that holds itself', () => {
    const inner: Record<string, unknown> = { url: note.url };
    inner['extension'] = [inner];
    const code: Record<string, unknown> = {};
    code['coding'] = [code];
    const resource: Record<string, unknown> = { ...observation(), extension: [inner], code };
    resource['contained'] = [resource];
    expect(validate(resource, undefined, [everyFacet.url]).length).toBeGreaterThan(0);
  });

  test('that say nothing add no fault', () => {
    const nothing = profileOf('Observation', [{ path: 'Observation' }], { url: `${HERE}nothing` });
    const silent = compileValidator(r4Definitions, { conformance: [nothing] });
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...names), tree, { maxKeys: 12 }), (members) => {
        const resource = { ...members, resourceType: 'Observation' };
        expect(silent(resource, undefined, [nothing.url])).toEqual(silent(resource));
      }),
      { numRuns: 300 },
    );
  });
});

describe('a definition with something else in a place of it', () => {
  /** Each place of a JSON value. */
  const placesOf = (
    value: unknown,
    place: readonly (string | number)[] = [],
  ): readonly (readonly (string | number)[])[] => {
    if (typeof value !== 'object' || value === null) return [place];
    const steps = Array.isArray(value) ? [...value.keys()] : Object.keys(value);
    return [
      place,
      ...steps.flatMap((step) =>
        placesOf((value as Record<string | number, unknown>)[step], [...place, step]),
      ),
    ];
  };
  const replaced = (value: unknown, [step, ...rest]: readonly (string | number)[], by: unknown): unknown => {
    if (step === undefined) return by;
    if (Array.isArray(value))
      return (value as readonly unknown[]).map((item, index) =>
        index === step ? replaced(item, rest, by) : item,
      );
    const members = value as Record<string, unknown>;
    return { ...members, [step]: replaced(members[step], rest, by) };
  };
  const mutations = conformance.flatMap((definition, index) =>
    placesOf(definition)
      .filter(([first]) => first !== undefined && first !== 'resourceType')
      .map((place) => ({ index, place })),
  );

  test('is refused by a DefinitionFault or compiled, and then judges without a throw', () => {
    const claimed = observation({
      extension: [{ url: note.url, valueString: 'a' }],
      component: [{ code: {} }],
    });
    fc.assert(
      fc.property(fc.constantFrom(...mutations), leaf, ({ index, place }, by) => {
        const mutated = conformance.map((each, at) => (at === index ? replaced(each, place, by) : each));
        try {
          compileValidator(r4Definitions, { conformance: mutated as StructureDefinition[] })(
            claimed,
            undefined,
            [everyFacet.url],
          );
        } catch (fault) {
          expect(fault).toBeInstanceOf(DefinitionFault);
        }
      }),
      { numRuns: 150 },
    );
  });
});

describe('decimals', () => {
  test('stand to a limit as the numbers they write, however long', () => {
    const digits = fc.integer({ min: -999999, max: 999999 });
    fc.assert(
      fc.property(digits, digits, fc.nat({ max: 25 }), (value, limit, places) => {
        const written = (digitsOf: number): string => {
          const text = String(Math.abs(digitsOf)).padStart(places + 1, '0');
          const whole = text.slice(0, text.length - places);
          return `${digitsOf < 0 ? '-' : ''}${whole}${places === 0 ? '' : `.${text.slice(text.length - places)}`}`;
        };
        const bound = new LosslessNumber(written(limit));
        const faults = limited(bound);
        const told = faults(observation({ valueQuantity: { value: new LosslessNumber(written(value)) } }));
        expect(told).toEqual(value > limit ? ['max-value Observation.value.value'] : []);
      }),
      { numRuns: 60 },
    );
  });

  const limited = (bound: LosslessNumber): ((resource: object) => readonly string[]) =>
    faultsOf(
      profileOf('Observation', [
        { path: 'Observation.valueQuantity.value', maxValueDecimal: bound as unknown as number },
      ]),
    );
});
