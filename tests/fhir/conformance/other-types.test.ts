import { describe, expect, test } from 'vitest';
import { type FhirIssue, r4Definitions } from '../../../src/fhir/index.js';
import type { ElementRow, TypeDefinition } from '../../../src/fhir/definitions/index.js';
import { isFault, issuesOf, readExpectedFailures } from './judgement.js';
import { bindingCases } from './other-bindings.js';
import { bundleCases } from './other-bundles.js';
import { cardinalityCases } from './other-cardinality.js';
import type { OtherCase } from './other-case.js';
import { conformanceCases } from './other-conformance.js';
import { containerCases } from './other-containers.js';
import { datatypeCases } from './other-datatypes.js';
import { elementCases } from './other-elements.js';
import { invariantCases } from './other-invariants.js';
import { samples } from './other-samples.js';
import { targetCases } from './other-targets.js';

const TOPICS: Readonly<Record<string, readonly OtherCase[]>> = {
  'elements that must be there': cardinalityCases,
  'required bindings': bindingCases,
  'reference targets': targetCases,
  'invariants of the clinical and administrative types': invariantCases,
  'invariants of the conformance and terminology types': conformanceCases,
  datatypes: datatypeCases,
  bundles: bundleCases,
  'resources within resources': containerCases,
  'elements, JSON form and texts': elementCases,
};
const ALL = Object.values(TOPICS).flat();

const EXPECTED_FAILURES = readExpectedFailures('other-expected-failures.txt');

const told = ({ rule, expression }: FhirIssue): string => `${rule} ${expression}`.trim();

/** Asserts that the case is judged as the standard judges it. */
function judge(row: OtherCase): void {
  const issues = issuesOf(row.text ?? row.resource ?? {});
  const faults = [...new Set(issues.filter(isFault).map(told))].sort();
  if (row.valid) {
    expect(faults.join('\n')).toBe('');
    const warnings = issues.filter(({ severity }) => severity === 'warning').map(told);
    if (row.warns !== undefined) expect(warnings).toContain(`${row.warns} ${row.place ?? ''}`);
    else expect(warnings.filter((warning) => warning.startsWith(`${row.rule ?? ''} `))).toEqual([]);
    return;
  }
  if (row.rule === undefined) {
    expect(faults).not.toEqual([]);
    return;
  }
  const expected = [`${row.rule} ${row.place ?? ''}`.trim(), ...(row.also ?? [])];
  expect(faults.join('\n')).toBe(expected.sort().join('\n'));
}

for (const [topic, rows] of Object.entries(TOPICS)) {
  describe(topic, () => {
    for (const row of rows) {
      const runs = EXPECTED_FAILURES.has(row.name) ? test.fails : test;
      runs(`${row.valid ? 'valid' : 'invalid'}: ${row.name} (${row.section})`, () => {
        judge(row);
      });
    }
  });
}

/** What an Observation holds has its own table. */
const ELSEWHERE = new Set([
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
const here = r4Definitions.types.filter(({ name }) => !ELSEWHERE.has(name));

describe('the table is whole', () => {
  test('each case has a name of its own', () => {
    const names = ALL.map(({ name }) => name);
    expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([]);
  });

  test('each expected failure is a case', () => {
    const names = new Set(ALL.map(({ name }) => name));
    expect([...EXPECTED_FAILURES].filter((name) => !names.has(name))).toEqual([]);
  });

  test('each type but the Observation has a well filled sample', () => {
    const types = here.filter(({ kind }) => kind === 'resource').map(({ name }) => name);
    expect(types.filter((name) => !Object.hasOwn(samples, name))).toEqual([]);
  });

  test('each invariant has a case that keeps it and one that breaks it', () => {
    const kept = new Set(
      ALL.filter(({ valid, warns }) => valid && warns === undefined).map(({ rule }) => rule),
    );
    const broken = new Set(
      ALL.filter(({ valid, warns }) => !valid || warns !== undefined).map(({ rule }) => rule),
    );
    const keys = here.flatMap(({ constraints = [] }) => constraints.map(({ key }) => key));
    expect(keys.length).toBeGreaterThan(90);
    expect(keys.filter((key) => !kept.has(key) || !broken.has(key))).toEqual([]);
  });

  test('each binding has a code that it takes and one that it does not', () => {
    const bound = elementsWith(
      ({ binding, maxValueSet }) => binding !== undefined || maxValueSet !== undefined,
    );
    expect(bound.length).toBeGreaterThan(90);
    expect(notCovered(bound, 'required-binding')).toEqual([]);
  });

  test('each unit with a widest value set has a code that it takes and one that it does not', () => {
    const units = here.filter(({ maxValueSet }) => maxValueSet !== undefined).map(({ name }) => name);
    expect(units).toEqual(['Age', 'Distance', 'Duration']);
    expect(notCovered(units, 'required-binding')).toEqual([]);
  });

  test('each reference has the targets that it takes and one that it does not', () => {
    const targeted = elementsWith(
      ({ targets, types }) => targets !== undefined && types.includes('Reference'),
    );
    expect(targeted.length).toBeGreaterThan(70);
    expect(notCovered(targeted, 'reference-target')).toEqual([]);
  });

  test('each element that must be there has a case without it', () => {
    const missing = new Set(
      ALL.filter(({ valid, rule }) => !valid && rule === 'cardinality').flatMap(definedBy),
    );
    const required = elementsWith(({ min }) => min > 0);
    expect(required.length).toBeGreaterThan(150);
    expect(required.filter((element) => !missing.has(element)).join('\n')).toBe('');
  });
});

/** Paths of the elements of the types of this table that are so: `Patient.contact.gender`. */
function elementsWith(isSo: (row: ElementRow) => boolean): readonly string[] {
  return here.flatMap(({ name, elements }) => elements.filter(isSo).map(({ path }) => `${name}.${path}`));
}

/** Those that lack a valid case or an invalid one of the rule. */
function notCovered(elements: readonly string[], rule: string): readonly string[] {
  const ofRule = ALL.filter((row) => row.rule === rule);
  const kept = new Set(ofRule.filter(({ valid }) => valid).flatMap(definedBy));
  const broken = new Set(ofRule.filter(({ valid }) => !valid).flatMap(definedBy));
  return elements.filter((element) => !kept.has(element) || !broken.has(element));
}

/** What defines the place of a case: the path of its element, and the name of the element's type. */
function definedBy({ resource, place }: OtherCase): readonly string[] {
  if (resource === undefined || place === undefined) return [];
  const [first = '', ...steps] = place.split('.');
  let at: unknown = resource;
  let [type, path, element] = [first, '', ''];
  for (const step of steps) {
    const [name = '', index] = step.split(/[[\]]/);
    const owner = lineage(type).find((each) => rowOf(each, path, name) !== undefined);
    const row = owner === undefined ? undefined : rowOf(owner, path, name);
    if (owner === undefined || row === undefined) return [];
    const [key = name, value] = memberOf(at, name);
    at =
      index === undefined ? value : (value as readonly unknown[] | undefined)?.[Number.parseInt(index, 10)];
    element = `${owner.name}.${row.path}`;
    const isNested = owner.elements.some((each) => each.path.startsWith(`${row.path}.`));
    if (isNested || row.content !== undefined) [type, path] = [owner.name, row.content ?? row.path];
    else [type, path] = [typeAt(row, key, name, at), ''];
  }
  return [element, type];
}

function lineage(name: string): readonly TypeDefinition[] {
  const type = r4Definitions.types.find((each) => each.name === name);
  return type === undefined ? [] : [type, ...(type.base === undefined ? [] : lineage(type.base))];
}

const rowOf = (type: TypeDefinition, parent: string, name: string): ElementRow | undefined => {
  const path = parent === '' ? name : `${parent}.${name}`;
  return type.elements.find((each) => each.path === path || each.path === `${path}[x]`);
};

/** The member of an object under a FHIRPath name: `valueMoney` for `value`. */
function memberOf(object: unknown, name: string): readonly [string?, unknown?] {
  const members = Object.entries(object ?? {}) as [string, unknown][];
  return (
    members.find(([key]) => key === name) ??
    members.find(([key]) => key.startsWith(name) && /^[A-Z]/.test(key.slice(name.length))) ??
    []
  );
}

/** The type of an element's value: told by the JSON name of a choice, or by the resource itself. */
function typeAt(row: ElementRow, key: string, name: string, value: unknown): string {
  if (row.path.endsWith('[x]')) return key.slice(name.length);
  const [type = ''] = row.types;
  return type === 'Resource' ? ((value as { resourceType?: string }).resourceType ?? '') : type;
}
