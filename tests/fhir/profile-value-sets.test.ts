// R4 valueset.html, "Value Set Content Logical Definition", and terminologies.html, "Binding Strengths".
import type { ValueSet } from 'fhir/r4.js';
import { describe, expect, test } from 'vitest';
import { compileValidator, DefinitionFault, r4Definitions } from '../../src/fhir/index.js';
import { codeSystemOf, faultsOf, HERE, observation, profileOf, valueSetOf } from './profile-of.js';

const joints = codeSystemOf('joints', [
  { code: 'upper', concept: [{ code: 'shoulder', display: 'Shoulder' }, { code: 'elbow' }] },
  {
    code: 'lower',
    concept: [
      { code: 'knee', property: [{ code: 'paired', valueBoolean: true }], concept: [{ code: 'patella' }] },
    ],
  },
  { code: 'hip', property: [{ code: 'parent', valueCode: 'lower' }] },
]);
const codes = ['upper', 'shoulder', 'elbow', 'lower', 'knee', 'patella', 'hip'];

/** The codes that a value set takes, as a required binding shows it. */
function takenBy(set: ValueSet, ...further: readonly ValueSet[]): readonly string[] {
  const faults = faultsOf(bound(set), joints, set, ...further);
  return codes.filter((code) => faults(coded(joints.url ?? '', code)).length === 0);
}

const bound = (set: ValueSet): ReturnType<typeof profileOf> =>
  profileOf('Observation', [
    { path: 'Observation.code', binding: { strength: 'required', valueSet: set.url ?? '' } },
  ]);

const coded = (system: string, code: string): object => observation({ code: { coding: [{ system, code }] } });

const system = joints.url ?? '';
const setOf = (...include: NonNullable<ValueSet['compose']>['include']): ValueSet =>
  valueSetOf('set', { include });

describe('a value set', () => {
  test('takes listed codes, or all of a system', () => {
    expect(takenBy(setOf({ system, concept: [{ code: 'knee' }, { code: 'hip' }] }))).toEqual(['knee', 'hip']);
    expect(takenBy(setOf({ system }))).toEqual(codes);
  });

  test.each([
    ['is-a', 'concept', 'lower', ['lower', 'knee', 'patella', 'hip']],
    ['descendent-of', 'concept', 'lower', ['knee', 'patella', 'hip']],
    ['is-not-a', 'concept', 'lower', ['upper', 'shoulder', 'elbow']],
    ['generalizes', 'concept', 'patella', ['lower', 'knee', 'patella']],
    ['in', 'concept', 'knee,elbow', ['elbow', 'knee']],
    ['not-in', 'concept', 'knee,elbow', ['upper', 'shoulder', 'lower', 'patella', 'hip']],
    ['=', 'display', 'Shoulder', ['shoulder']],
    ['exists', 'paired', 'true', ['knee']],
    ['=', 'paired', 'true', ['knee']],
    ['regex', 'code', '.*er', ['upper', 'shoulder', 'lower']],
  ] as const)('takes codes by the filter %s of %s %s', (op, property, value, taken) => {
    expect(takenBy(setOf({ system, filter: [{ property, op, value }] }))).toEqual(taken);
  });

  test('joins its includes, and takes of one what is in all its value sets', () => {
    const upper = valueSetOf('upper', {
      include: [{ system, filter: [{ property: 'concept', op: 'is-a', value: 'upper' }] }],
    });
    expect(
      takenBy(setOf({ valueSet: [upper.url ?? ''] }, { system, concept: [{ code: 'hip' }] }), upper),
    ).toEqual(['upper', 'shoulder', 'elbow', 'hip']);
    const some = setOf({
      system,
      concept: [{ code: 'elbow' }, { code: 'hip' }],
      valueSet: [upper.url ?? ''],
    });
    expect(takenBy(some, upper)).toEqual(['elbow']);
  });

  test('leaves out what it excludes', () => {
    const set = valueSetOf('set', {
      include: [{ system }],
      exclude: [{ system, filter: [{ property: 'concept', op: 'is-a', value: 'lower' }] }],
    });
    expect(takenBy(set)).toEqual(['upper', 'shoulder', 'elbow']);
  });

  test('with an expansion is that', () => {
    const contains = [{ system, code: 'lower', abstract: true, contains: [{ system, code: 'knee' }] }];
    const set = valueSetOf('set', undefined, { expansion: { timestamp: '2024-01-01', contains } });
    expect(takenBy(set)).toEqual(['knee']);
  });

  test('of a system that nobody listed lets its codes pass, those of others not, and says so', () => {
    const set = setOf({ system: 'https://elsewhere.example/codes' });
    const conformance = [bound(set), set];
    const { remarks } = compileValidator(r4Definitions, { conformance });
    expect(remarks).toEqual([
      `${HERE}set takes codes of https://elsewhere.example/codes, which are not listed here and not checked.`,
    ]);
    const faults = faultsOf(bound(set), set);
    expect(faults(coded('https://elsewhere.example/codes', 'x'))).toEqual([]);
    expect(faults(coded(system, 'knee'))).toEqual(['required-binding Observation.code']);
  });

  test('that nobody gave leaves the binding unchecked, and says so', () => {
    const set = setOf({ system });
    const { remarks } = compileValidator(r4Definitions, { conformance: [bound(set)] });
    expect(remarks).toEqual([`The value set ${HERE}set is not known; its codes are not checked.`]);
    expect(faultsOf(bound(set))(coded(system, 'x'))).toEqual([]);
  });

  test('that includes itself, or has nothing in it, stops with its name', () => {
    for (const set of [setOf({ valueSet: [`${HERE}set`] }), valueSetOf('set', undefined)]) {
      expect(() => compileValidator(r4Definitions, { conformance: [set] })).toThrow(DefinitionFault);
    }
  });
});

describe('a binding of a profile', () => {
  const set = setOf({ system, concept: [{ code: 'knee' }] });

  test('holds the widest value set of a looser binding where there is a code', () => {
    // http://hl7.org/fhir/R4/extension-elementdefinition-maxvalueset.html
    const extension = [
      {
        url: 'http://hl7.org/fhir/StructureDefinition/elementdefinition-maxValueSet',
        valueCanonical: set.url ?? '',
      },
    ];
    const profile = profileOf('Observation', [
      { path: 'Observation.code', binding: { strength: 'preferred', extension } },
    ]);
    const faults = faultsOf(profile, joints, set);
    expect(faults(coded(system, 'knee'))).toEqual([]);
    expect(faults(observation())).toEqual([]);
    expect(faults(coded(system, 'hip'))).toEqual(['required-binding Observation.code']);
  });

  test('joins that of the standard', () => {
    const statuses = valueSetOf('statuses', {
      include: [{ system: 'http://hl7.org/fhir/observation-status', concept: [{ code: 'final' }] }],
    });
    const profile = profileOf('Observation', [
      { path: 'Observation.status', binding: { strength: 'required', valueSet: statuses.url ?? '' } },
    ]);
    const faults = faultsOf(profile, statuses);
    expect(faults(observation())).toEqual([]);
    expect(faults(observation({ status: 'amended' }))).toEqual(['required-binding Observation.status']);
  });

  test('of a quantity holds its unit', () => {
    const units = valueSetOf('units', {
      include: [{ system: 'http://unitsofmeasure.org', concept: [{ code: 'kg' }] }],
    });
    const profile = profileOf('Observation', [
      { path: 'Observation.valueQuantity', binding: { strength: 'required', valueSet: units.url ?? '' } },
    ]);
    const faults = faultsOf(profile, units);
    const of = (code: string): object =>
      observation({ valueQuantity: { value: 1, unit: code, system: 'http://unitsofmeasure.org', code } });
    expect(faults(of('kg'))).toEqual([]);
    expect(faults(of('g'))).toEqual(['required-binding Observation.value']);
  });

  test('that is weaker than required is left alone', () => {
    const profile = profileOf('Observation', [
      { path: 'Observation.code', binding: { strength: 'extensible', valueSet: set.url ?? '' } },
    ]);
    expect(faultsOf(profile, joints, set)(coded(system, 'hip'))).toEqual([]);
  });
});
