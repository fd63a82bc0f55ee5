import { describe, expect, test } from 'vitest';
import { compileValidator, type FhirIssue, r4Definitions } from '../../../src/fhir/index.js';
import { published, publishedDefinitions, publishedFolder } from '../published.js';
import { bindingCases } from './other-bindings.js';
import { bundleCases } from './other-bundles.js';
import { cardinalityCases } from './other-cardinality.js';
import { type OtherCase, withAt } from './other-case.js';
import { conformanceCases } from './other-conformance.js';
import { containerCases } from './other-containers.js';
import { datatypeCases } from './other-datatypes.js';
import { elementCases } from './other-elements.js';
import { invariantCases } from './other-invariants.js';
import { samples } from './other-samples.js';
import { targetCases } from './other-targets.js';

const validate = compileValidator(r4Definitions);
const isFault = ({ severity }: FhirIssue): boolean => severity === 'error' || severity === 'fatal';

const CASES: readonly OtherCase[] = [
  ...bindingCases,
  ...bundleCases,
  ...cardinalityCases,
  ...conformanceCases,
  ...containerCases,
  ...datatypeCases,
  ...elementCases,
  ...invariantCases,
  ...targetCases,
];
const faulty = CASES.flatMap(({ resource, valid }) => (resource === undefined || valid ? [] : [resource]));

/** What is said of a resource, with the places told from another root. */
const said = (issues: readonly FhirIssue[], root: string, as: string): readonly string[] =>
  issues
    .filter(({ expression }) => expression.startsWith(root))
    .map(({ severity, rule, expression }) => `${severity} ${rule} ${as}${expression.slice(root.length)}`)
    .toSorted();

/** A bundle that holds the resource in a part of a parameter, and in the outcome of a response one bundle deeper. */
const holding = (resource: object): object => ({
  resourceType: 'Bundle',
  type: 'collection',
  entry: [
    {
      resource: {
        resourceType: 'Parameters',
        parameter: [{ name: 'a', part: [{ name: 'b', resource }] }],
      },
    },
    {
      resource: {
        resourceType: 'Bundle',
        type: 'batch-response',
        entry: [{ response: { status: '200', outcome: resource } }],
      },
    },
  ],
});
/** Of more issues than these not all are told of two copies in one answer. */
const MANY = 400;

const PLACES = [
  'Bundle.entry[0].resource.parameter[0].part[0].resource',
  'Bundle.entry[1].resource.entry[0].response.outcome',
];

test('a resource breaks the same rules wherever it stands (R4 bundle, parameters)', () => {
  for (const resource of faulty) {
    const alone = validate(resource);
    const { resourceType } = resource as { resourceType: string };
    if (alone.length > MANY) continue;
    const within = validate(holding(resource));
    for (const place of PLACES) expect(said(within, place, place)).toEqual(said(alone, resourceType, place));
  }
}, 60_000);

test('no invariant goes without a verdict on any case', () => {
  const isInvariant = ({ rule }: FhirIssue): boolean => /^[a-z]+-\d+[a-z]?$/.test(rule);
  const untold = CASES.flatMap(({ name, resource }) =>
    (resource === undefined ? [] : validate(resource))
      .filter((issue) => issue.code === 'not-supported' && isInvariant(issue))
      .map(({ diagnostics }) => `${name}: ${diagnostics}`),
  );
  expect(untold).toEqual([]);
}, 60_000);

/** A member of an object within a sample. */
interface Member {
  readonly parent: Record<string, unknown>;
  readonly key: string;
  /** FHIRPath of the object and of the member. */
  readonly within: string;
  readonly place: string;
}

/** JSON names of the choices in the samples (R4 formats, "Choice of Data Types"), told without their type. */
const CHOICES =
  /^(deceased|multipleBirth|onset|occurred|quantity|occurrence|asNeeded|identified|effective|source|target|value)[A-Z]/;
/** Types with names that look like those of a choice: Device.property.valueCode, Measure.effectivePeriod. */
const WITHOUT_CHOICES = new Set(['Device', 'Measure']);
const NAMES_OF_THEIR_OWN = new Set(['targetFormat', 'sourceVersion', 'valueSet', 'targetProfile']);

function nameOf(type: string, key: string): string {
  if (WITHOUT_CHOICES.has(type) || NAMES_OF_THEIR_OWN.has(key)) return key;
  return CHOICES.exec(key)?.[1] ?? key;
}

/** Every member of every object of a resource, but its type. */
function membersOf(type: string, value: unknown, within = type): readonly Member[] {
  if (Array.isArray(value))
    return (value as readonly unknown[]).flatMap((item, index) =>
      membersOf(type, item, `${within}[${String(index)}]`),
    );
  if (typeof value !== 'object' || value === null) return [];
  const parent = value as Record<string, unknown>;
  return Object.keys(parent)
    .filter((key) => key !== 'resourceType')
    .flatMap((key) => {
      const place = `${within}.${nameOf(type, key)}`;
      return [{ parent, key, within, place }, ...membersOf(type, parent[key], place)];
    });
}

/** Another value for a member, or nothing when it is not meant for this one. */
type Spoiling = (value: unknown) => unknown;

const isText = (value: unknown): boolean => typeof value === 'string';

describe.each(Object.entries(samples))('in a well filled %s', (type, sample) => {
  /** Spoils each member in turn, and tells where the fault was not found. */
  const missed = (spoil: Spoiling): readonly string[] => {
    const copy = structuredClone(sample) as object;
    return membersOf(type, copy).flatMap(({ parent, key, place }) => {
      const value = parent[key];
      const spoiled = spoil(value);
      if (spoiled === undefined) return [];
      parent[key] = spoiled;
      const issues = validate(copy).filter(isFault);
      parent[key] = value;
      const isFound = issues.some(
        ({ expression }) => expression === place || expression.startsWith(`${place}[`),
      );
      return isFound ? [] : [place];
    });
  };

  test('each text that is a number or an object is found at its place (R4 json)', () => {
    expect(missed((value) => (isText(value) ? 1 : undefined))).toEqual([]);
    expect(missed((value) => (isText(value) ? { value: 'a' } : undefined))).toEqual([]);
  });

  test('each number and each yes or no in quotes is found at its place (R4 json)', () => {
    expect(
      missed((value) =>
        typeof value === 'number' || typeof value === 'boolean' ? String(value) : undefined,
      ),
    ).toEqual([]);
  });

  test('each single element in an array is found at its place (R4 json)', () => {
    expect(missed((value) => (Array.isArray(value) ? undefined : [value]))).toEqual([]);
  });

  test('each repeating element without its array is found at its place (R4 json)', () => {
    expect(missed((value) => (Array.isArray(value) ? (value as readonly unknown[])[0] : undefined))).toEqual(
      [],
    );
  });

  test('each element that is null, empty or blank is found at its place (R4 json)', () => {
    expect(missed(() => null)).toEqual([]);
    expect(missed(() => [])).toEqual([]);
    expect(missed(() => ({}))).toEqual([]);
    expect(missed((value) => (isText(value) ? ' ' : undefined))).toEqual([]);
  });

  test('each name that is spelt in another way is found at its place (R4 json)', () => {
    const copy = structuredClone(sample) as object;
    for (const { parent, key, within, place } of membersOf(type, copy)) {
      const wrong = `${key}z`;
      parent[wrong] = parent[key];
      const places = validate(copy)
        .filter(isFault)
        .map(({ expression }) => expression);
      Reflect.deleteProperty(parent, wrong);
      expect(places.filter((each) => each === place || each === `${within}.${wrong}`)).not.toEqual([]);
    }
  });
});

/** What a body of a request can hold of short members. */
const THOUSANDS = 20_000;
const many = (make: (index: number) => object): readonly object[] =>
  Array.from({ length: THOUSANDS }, (_, index) => make(index));

// Comparing each with each takes more than twenty seconds for these, going through them once a few tenths of one.
test.each<[string, () => object]>([
  [
    'a code system of as many codes',
    () => ({ ...samples.CodeSystem, concept: many((at) => ({ code: `c${String(at)}` })) }),
  ],
  [
    'a statement of as many search parameters of a type',
    () =>
      withAt(
        samples.CapabilityStatement,
        'CapabilityStatement.rest[0].resource[0].searchParam',
        many((at) => ({ name: `n${String(at)}`, type: 'token' })),
      ),
  ],
  [
    'a patient who contains as many practitioners',
    () => ({
      resourceType: 'Patient',
      contained: many((at) => ({ resourceType: 'Practitioner', id: `n${String(at)}` })),
      generalPractitioner: many((at) => ({ reference: `#n${String(at)}` })),
    }),
  ],
  [
    'a bundle of as many patients who refer to each other',
    () => ({
      resourceType: 'Bundle',
      type: 'collection',
      entry: many((at) => ({
        fullUrl: `http://hospital.example/${String(at)}`,
        resource: {
          resourceType: 'Patient',
          link: [
            {
              other: { reference: `http://hospital.example/${String((at + 1) % THOUSANDS)}` },
              type: 'refer',
            },
          ],
        },
      })),
    }),
  ],
])(
  `of ${String(THOUSANDS)}: %s is valid, and judged in one pass`,
  (_, make) => {
    const resource = make();
    const start = performance.now();
    expect(validate(resource).filter(isFault)).toEqual([]);
    expect(performance.now() - start).toBeLessThan(8000);
  },
  60_000,
);

describe('what HL7 publishes in these types is valid', () => {
  const files = publishedDefinitions();
  test.skipIf(publishedFolder === undefined)(
    `its structures, terminology, search parameters and operations (${String(files.length)} files, if they are there)`,
    () => {
      expect(files.length).toBeGreaterThan(600);
      const faults = files.flatMap((file) =>
        validate(JSON.parse(published(file)))
          .filter(isFault)
          .map(({ rule, expression }) => `${file} ${rule} ${expression}`),
      );
      expect(faults).toEqual([]);
    },
    60_000,
  );
});
