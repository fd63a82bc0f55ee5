import { expect, test } from 'vitest';
import { compileValidator, hasErrors, r4Definitions } from '../../src/fhir/index.js';
import { definedResources, type JsonObject } from './arbitrary-resource.js';
import { Elements, type Member, type PlacedElement } from './elements.js';
import { published, publishedExamples, publishedFolder } from './published.js';

// HL7 FHIR R4 4.0.1, examples published with the standard (package hl7.fhir.r4.examples, CC0-1.0).

const validate = compileValidator(r4Definitions);
const elements = new Elements(r4Definitions);
const read = (file: string): JsonObject => JSON.parse(published(file)) as JsonObject;

/** No cases where there is nothing to try them on. */
const atHand = <T>(cases: readonly T[]): readonly T[] => (publishedFolder === undefined ? [] : cases);

/** Examples that break the standard's own rules. */
const FAULTY: Readonly<Record<string, readonly string[]>> = {
  // R4 Observation.performer: Practitioner, PractitionerRole, Organization, CareTeam, Patient, RelatedPerson. It names an encounter.
  'examples/Observation-clinical-gender.json': ['reference-target Observation.performer[0]'],
};

const files = publishedExamples(definedResources(r4Definitions));

test.skipIf(publishedFolder === undefined)(
  'the published examples are all there (what is told about them is skipped where they are not at hand)',
  () => {
    expect(files.length).toBeGreaterThan(150);
  },
);

test.each(files)(
  'the published example %s is valid, or breaks the rule that it is known to break',
  (file) => {
    const errors = validate(read(file)).filter((issue) => hasErrors([issue]));
    expect(errors.map(({ rule, expression }) => `${rule} ${expression}`)).toEqual(FAULTY[file] ?? []);
  },
);

/** One way to break an element of an example, where it applies, and what must be told of it. */
interface Breakage {
  readonly rule: string;
  readonly applies: (member: Member, value: unknown) => boolean;
  /** The value in its place; undefined leaves the element out. */
  readonly broken: (value: unknown, member: Member) => unknown;
  /** Whether the fault is at the first item rather than at the element. */
  readonly isAtItem: boolean;
}

const repeats = ({ row }: Member): boolean => row.max !== 1;
const firstOf = (value: unknown): unknown =>
  Array.isArray(value) ? (value as readonly unknown[])[0] : value;
const withFirst = (value: unknown, first: unknown): unknown =>
  Array.isArray(value) ? [first, ...(value as readonly unknown[]).slice(1)] : first;

/** Values that the type does not have (R4 datatypes, "Primitive Types"). */
const NO_VALUE: Readonly<Record<string, unknown>> = {
  boolean: 'true',
  integer: 1.5,
  positiveInt: 0,
  unsignedInt: -1,
  decimal: '1',
  string: '',
  markdown: ' ',
  code: ' a',
  id: 'a_b',
  uri: 'a b',
  url: 'a b',
  canonical: 'a b',
  oid: '1.2.3',
  uuid: 'c757873d',
  base64Binary: 'YQ=',
  date: '2024-02-30',
  dateTime: '2024-02-29T25:00:00Z',
  instant: '2024-02-29',
  time: '8:00',
};

const listed = new Set(
  r4Definitions.valueSets
    .filter(({ include }) => include.every(({ codes }) => codes !== undefined))
    .map(({ url }) => url),
);

const BREAKAGES: readonly (readonly [string, Breakage])[] = [
  [
    'a required element that is left out',
    { rule: 'cardinality', applies: ({ row }) => row.min > 0, broken: () => undefined, isAtItem: false },
  ],
  [
    'a code outside of its required value set',
    {
      rule: 'required-binding',
      applies: ({ row, type }) => type === 'code' && row.binding !== undefined && listed.has(row.binding),
      broken: (value) => withFirst(value, 'no-such-code'),
      isAtItem: true,
    },
  ],
  [
    'a value that the primitive type does not have',
    {
      rule: 'primitive-type',
      applies: ({ type, isPrimitive }, value) =>
        isPrimitive && typeof NO_VALUE[type] === typeof firstOf(value) && firstOf(value) !== null,
      broken: (value, { type }) => withFirst(value, NO_VALUE[type]),
      isAtItem: true,
    },
  ],
  [
    'an object where a primitive belongs',
    {
      rule: 'json-type',
      applies: ({ isPrimitive }, value) => isPrimitive && firstOf(value) !== null,
      broken: (value) => withFirst(value, { value: 'a' }),
      isAtItem: true,
    },
  ],
  [
    'a text where an object belongs',
    {
      rule: 'json-type',
      applies: ({ isPrimitive }) => !isPrimitive,
      broken: (value) => withFirst(value, 'a'),
      isAtItem: true,
    },
  ],
  [
    'an array where one value belongs',
    {
      rule: 'json-type',
      applies: (member) => !repeats(member),
      broken: (value) => [value],
      isAtItem: false,
    },
  ],
  [
    'one value where an array belongs',
    { rule: 'json-type', applies: repeats, broken: firstOf, isAtItem: false },
  ],
  [
    'null where a value belongs',
    {
      rule: 'json-null',
      applies: (_member, value) => firstOf(value) !== null,
      broken: (value) => withFirst(value, null),
      isAtItem: true,
    },
  ],
  ['an empty array', { rule: 'json-empty', applies: repeats, broken: () => [], isAtItem: false }],
  [
    'a reference to a type that the element does not allow',
    {
      rule: 'reference-target',
      applies: ({ row, type }) => type === 'Reference' && row.targets !== undefined,
      broken: (value) => withFirst(value, { reference: 'Binary/1' }),
      isAtItem: true,
    },
  ],
];

test.each(atHand(BREAKAGES))(
  'a published example with %s is told about at that place, for each element of the definitions that occurs',
  (_what, breakage) => {
    const seen = new Set<string>();
    const missed = files
      .filter((file) => FAULTY[file] === undefined)
      .flatMap((file) => missedIn(read(file), breakage, seen));
    expect(missed).toEqual([]);
    expect(seen.size).toBeGreaterThan(20);
  },
);

test.each(atHand(['noSuchElement']))(
  'a published example with an element %s, which the standard does not have, is told about at that place, in each type',
  (name) => {
    const seen = new Set<string>();
    const missed = files.flatMap((file) =>
      elements.listOf(read(file)).flatMap(({ base }, index) => {
        if (seen.has(base)) return [];
        seen.add(base);
        const example = read(file);
        const element = elements.listOf(example)[index];
        if (element === undefined) return [base];
        Object.assign(element.value, { [name]: 'a' });
        return isTold(example, 'unknown-element', `${element.place}.${name}`) ? [] : [element.place];
      }),
    );
    expect(missed).toEqual([]);
    expect(seen.size).toBeGreaterThan(60);
  },
);

/** Breaks each element of the example that was not yet broken in another one; the places at which nothing was told. */
function missedIn(example: JsonObject, breakage: Breakage, seen: Set<string>): readonly string[] {
  return elements
    .listOf(example)
    .flatMap((element) => elements.membersOf(element.base).map((member) => ({ element, member })))
    .filter(({ element, member }) => {
      const value = element.value[member.key];
      const name = `${element.base}.${member.key}`;
      if (value === undefined || seen.has(name) || !breakage.applies(member, value)) return false;
      seen.add(name);
      return true;
    })
    .flatMap(({ element, member }) => missedAt(example, element, member, breakage));
}

/** The element is broken where it stands, and mended again. */
function missedAt(
  example: JsonObject,
  { value: holder, place }: PlacedElement,
  member: Member,
  { rule, broken, isAtItem }: Breakage,
): readonly string[] {
  const { key, name } = member;
  const value = holder[key];
  const twin = holder[`_${key}`];
  Object.assign(holder, { [key]: broken(value, member), [`_${key}`]: undefined });
  const where = `${place}.${name}${isAtItem && Array.isArray(value) ? '[0]' : ''}`;
  const told = isTold(example, rule, where);
  Object.assign(holder, { [key]: value, [`_${key}`]: twin });
  return told ? [] : [where];
}

const isTold = (resource: JsonObject, rule: string, place: string): boolean =>
  validate(resource).some((issue) => hasErrors([issue]) && issue.rule === rule && issue.expression === place);
