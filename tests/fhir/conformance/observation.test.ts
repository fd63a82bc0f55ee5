import { describe, expect, test } from 'vitest';
import { r4Definitions } from '../../../src/fhir/index.js';
import { type Given, isFault, issuesOf, readExpectedFailures } from './judgement.js';
import { casesOf, type ObservationCase, type RuleCases } from './observation-case.js';
import { datatypeCases } from './observation-datatypes.js';
import { elementCases } from './observation-elements.js';
import { extensionCases } from './observation-extensions.js';
import { jsonCases } from './observation-json.js';
import { narrativeCases } from './observation-narrative.js';
import { primitiveCases } from './observation-primitives.js';
import { referenceCases } from './observation-references.js';

const TOPICS: Readonly<Record<string, readonly RuleCases[]>> = {
  'elements of an Observation': elementCases,
  'primitive types': primitiveCases,
  datatypes: datatypeCases,
  'references and contained resources': referenceCases,
  'extensions, metadata and values with extensions': extensionCases,
  narrative: narrativeCases,
  'JSON form': jsonCases,
};
const ALL = Object.values(TOPICS).flat().flatMap(casesOf);

const EXPECTED_FAILURES = readExpectedFailures('expected-failures.txt');

/** The faults that are told of what is given, each once. */
const faultsOf = (given: Given): readonly string[] => [
  ...new Set(
    issuesOf(given, 'Observation')
      .filter(isFault)
      .map(({ rule, expression }) => `${rule} at ${expression}`),
  ),
];

for (const [topic, rules] of Object.entries(TOPICS)) {
  describe(topic, () => {
    for (const { name, rule, section, given, place } of rules.flatMap(casesOf)) {
      const judged = EXPECTED_FAILURES.has(name) ? test.fails : test;
      judged(`${name} ${place === undefined ? 'is taken' : 'is refused'} (${rule}, ${section})`, () => {
        expect(faultsOf(given)).toEqual(place === undefined ? [] : [`${rule} at ${place}`]);
      });
    }
  });
}

/** The types that this table is about; what else the definitions hold has the table of the other types. */
const TYPES = new Set([
  ...[
    'Observation',
    'Element',
    'BackboneElement',
    'Extension',
    'Resource',
    'DomainResource',
    'Meta',
    'Narrative',
  ],
  ...['Identifier', 'Reference', 'CodeableConcept', 'Coding', 'Quantity', 'SimpleQuantity', 'Range', 'Ratio'],
  ...['SampledData', 'Period', 'Timing', 'Annotation'],
]);
const here = r4Definitions.types.filter(({ name }) => TYPES.has(name));

/** What is named by no valid case of the rule, or by no invalid one. */
function lacking(
  names: readonly string[],
  isNamedBy: (name: string, row: ObservationCase) => boolean,
): readonly string[] {
  return names.filter((name) => {
    const rows = ALL.filter((row) => isNamedBy(name, row));
    return rows.every(({ place }) => place === undefined) || rows.every(({ place }) => place !== undefined);
  });
}

const elementsWith = (isSo: (row: (typeof here)[number]['elements'][number]) => boolean): readonly string[] =>
  here.flatMap(({ name, elements }) => elements.filter(isSo).map(({ path }) => `${name}.${path}`));

describe('the table is whole', () => {
  test('each case has a name of its own', () => {
    const names = ALL.map(({ name }) => name);
    expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
  });

  test('each expected failure is a case', () => {
    const names = new Set(ALL.map(({ name }) => name));
    expect([...EXPECTED_FAILURES].filter((name) => !names.has(name))).toEqual([]);
  });

  test('each invariant has a case that keeps it and one that breaks it, but for the one that only advises', () => {
    const keys = here.flatMap(({ constraints = [] }) => constraints.map(({ key }) => key));
    expect(keys.length).toBeGreaterThan(25);
    expect(lacking(keys, (key, { rule }) => rule === key)).toEqual(['dom-6']);
  });

  test('each binding that codes must keep to has a code that it takes and one that it refuses', () => {
    const bound = elementsWith(({ binding, maxValueSet }) => (binding ?? maxValueSet) !== undefined);
    expect(bound.length).toBeGreaterThan(8);
    expect(lacking(bound, (element, { rule, on }) => rule === 'required-binding' && on === element)).toEqual(
      [],
    );
  });

  test('each element that must be there has a case without it', () => {
    const required = elementsWith(({ min }) => min > 0);
    expect(required.length).toBeGreaterThan(8);
    expect(lacking(required, (element, { rule, on }) => rule === 'cardinality' && on === element)).toEqual(
      [],
    );
  });

  test('each choice of types has a case with one of them and one with none of them', () => {
    const choices = elementsWith(({ path }) => path.endsWith('[x]') && !path.startsWith('component.'));
    expect(choices.length).toBeGreaterThan(4);
    expect(lacking(choices, (element, { rule, on }) => rule === 'choice-type' && on === element)).toEqual([]);
  });

  test('each reference has targets that it takes and one that it refuses', () => {
    const targeted = elementsWith(({ targets }) => targets !== undefined);
    expect(targeted.length).toBeGreaterThan(10);
    expect(
      lacking(targeted, (element, { rule, on }) => rule === 'reference-target' && on === element),
    ).toEqual([]);
  });

  test('each primitive type has a value that it takes and one that it refuses', () => {
    const primitives = r4Definitions.types
      .filter(({ kind }) => kind === 'primitive-type')
      .map(({ name }) => name);
    expect(primitives.length).toBe(20);
    expect(lacking(primitives, (type, { on }) => on === type)).toEqual([]);
  });
});
