import type { ElementDefinition, Observation, StructureDefinition } from 'fhir/r4.js';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { FINDING_PROFILE_URL, profileIds, profileUrl, type ProfileId } from '../src/catalogue/index.js';
import { compileValidator, r4Definitions, type FhirIssue } from '../src/fhir/index.js';
import { makeFhirProfiles } from './config/make-fhir-profiles.js';
import { keptFiles, PROFILES_FOLDER } from './config/profiles/kept-files.js';
import { ruleNames } from './config/profiles/validation-rules.js';
import { ownConformance } from './conformance.js';

type Kept = Readonly<Record<string, unknown>> & { readonly resourceType: string; readonly id: string };

const kept = (name: string): Kept => JSON.parse(readFileSync(new URL(name, PROFILES_FOLDER), 'utf8')) as Kept;
const isExample = (name: string): boolean => name.startsWith('examples/');
const definitions = keptFiles()
  .filter((name) => !isExample(name))
  .map(kept);
const example = (id: ProfileId): Observation =>
  kept(`examples/Observation-example-${id}.json`) as unknown as Observation;

/** R4 dom-6 is advice on good practice: an Observation is written without a narrative, which its coded parts would repeat. */
const withoutAdvice = (issues: readonly FhirIssue[]): readonly FhirIssue[] =>
  issues.filter(({ rule }) => rule !== 'dom-6');

const { validate } = ownConformance();

describe('the definitions in fhir-profiles', () => {
  it('are as the catalogue makes them', async () => {
    const made = await makeFhirProfiles();
    expect([...keptFiles()].sort()).toEqual([...made.keys()].sort());
    for (const [name, text] of made) {
      const isSame = readFileSync(new URL(name, PROFILES_FOLDER), 'utf8') === text;
      expect(isSame, `${name}: make it again`).toBe(true);
    }
  });

  // R4 StructureDefinition, ValueSet, CodeSystem, ConceptMap, SearchParameter with sdf-, eld-, vsd-, csd-, cmd-, spd-.
  it.each(
    definitions.map((definition) => [`${definition.resourceType}/${definition.id}`, definition] as const),
  )('%s is valid R4 without a fault or a warning', (_name, definition) => {
    expect(compileBase()(definition)).toEqual([]);
  });

  it.each(definitions.map((definition) => [definition.id, definition] as const))(
    '%s says who publishes it, in which version, what it is and that it is in use',
    (_name, { title, resourceType, text, ...head }) => {
      if (resourceType !== 'SearchParameter') expect(title).toEqual(expect.any(String));
      expect(text).toMatchObject({ status: 'generated' });
      expect(head).toMatchObject({
        version: expect.stringMatching(/^\d+\.\d+\.\d+$/) as unknown,
        status: 'active',
        experimental: false,
        publisher: expect.any(String) as unknown,
        description: expect.any(String) as unknown,
      });
    },
  );
});

let base: ReturnType<typeof compileValidator> | undefined;
function compileBase(): ReturnType<typeof compileValidator> {
  return (base ??= compileValidator(r4Definitions));
}

describe('the profile of each kind of Observation', () => {
  const structures = definitions as unknown as readonly StructureDefinition[];
  const elementsOf = (id: string): readonly ElementDefinition[] =>
    structures.find((one) => one.url === id)?.differential?.element ?? [];

  it.each(profileIds)('%s is defined, and kept by its example without a fault or a warning', (id) => {
    expect(elementsOf(profileUrl(id)).length).toBeGreaterThan(1);
    expect(example(id).meta?.profile).toEqual([profileUrl(id)]);
    expect(withoutAdvice(validate(example(id)))).toEqual([]);
  });

  // US Core Observation Clinical Result and IPA Observation: what a sender that has it must send.
  it('asks senders for all that US Core Clinical Result and IPA mark as must-support', () => {
    const supported = elementsOf(FINDING_PROFILE_URL)
      .filter(({ mustSupport }) => mustSupport)
      .map(({ path }) => path.replace('Observation.', ''));
    expect(supported).toEqual(
      expect.arrayContaining([
        'status',
        'category',
        'code',
        'subject',
        'encounter',
        'effective[x]',
        'performer',
        'value[x]',
        'dataAbsentReason',
        ...['bodySite', 'method', 'interpretation', 'referenceRange', 'hasMember', 'note'],
      ]),
    );
  });
});

/** One thing that a profile forbids, as a change of its example. */
type Breach = readonly [
  profile: ProfileId,
  what: string,
  change: (observation: Observation) => Partial<Observation> | Record<string, unknown>,
  rule: string,
  place: string,
];

const quantity = { unit: 'x', system: 'http://unitsofmeasure.org' };
const other = { coding: [{ system: 'http://example.org/codes', code: 'other' }] };
const withComponents = (
  { component = [] }: Observation,
  is: (code: string) => boolean,
): Observation['component'] => component.filter(({ code }) => is(code.coding?.[0]?.code ?? ''));

const breaches: readonly Breach[] = [
  ['range', 'another category', () => ({ category: [other] }), 'cardinality', 'Observation.category'],
  ['range', 'no patient', () => ({ subject: undefined }), 'cardinality', 'Observation.subject'],
  [
    'range',
    'a group of people',
    () => ({ subject: { reference: 'Group/1' } }),
    'reference-target',
    'Observation.subject',
  ],
  ['range', 'no examiner', () => ({ performer: undefined }), 'cardinality', 'Observation.performer'],
  ['range', 'a time to the month', () => ({ effectiveDateTime: '2026-03' }), 'msk-time-1', 'Observation'],
  [
    'range',
    'a period',
    () => ({ effectiveDateTime: undefined, effectivePeriod: { start: '2026-03-05' } }),
    'choice-type',
    'Observation.effective',
  ],
  [
    'range',
    'the code of a strength',
    () => ({ code: example('strength').code }),
    'required-binding',
    'Observation.code',
  ],
  [
    'range',
    'a negative angle',
    () => ({ valueQuantity: { ...quantity, value: -5, code: 'deg' } }),
    'min-value',
    'Observation.value.value',
  ],
  [
    'range',
    'centimetres',
    () => ({ valueQuantity: { ...quantity, value: 5, code: 'cm' } }),
    'required-binding',
    'Observation.value.code',
  ],
  [
    'range',
    'an angle with a comparator',
    () => ({ valueQuantity: { ...quantity, value: 5, code: 'deg', comparator: '<' } }),
    'cardinality',
    'Observation.value.comparator',
  ],
  ['range', 'no site', () => ({ bodySite: undefined }), 'cardinality', 'Observation.bodySite'],
  [
    'range',
    'a site without words',
    ({ bodySite }) => ({ bodySite: { ...bodySite, text: undefined } }),
    'cardinality',
    'Observation.bodySite.text',
  ],
  [
    'range',
    'a site without its side',
    ({ bodySite }) => ({ bodySite: { ...bodySite, extension: undefined } }),
    'msk-side-2',
    'Observation',
  ],
  [
    'strength',
    'a grade of another scale',
    () => ({ valueCodeableConcept: other }),
    'required-binding',
    'Observation.value',
  ],
  [
    'strength',
    'a number',
    () => ({ valueCodeableConcept: undefined, valueInteger: 4 }),
    'choice-type',
    'Observation.value',
  ],
  [
    'grip',
    'the mass of a kilogram',
    () => ({ valueQuantity: { ...quantity, value: 22.5, code: 'kg' } }),
    'fixed',
    'Observation.value.code',
  ],
  [
    'grip',
    'a second coding',
    ({ code }) => ({ code: { coding: [...(code.coding ?? []), { code: 'grip' }] } }),
    'cardinality',
    'Observation.code.coding',
  ],
  [
    'grip',
    'no trial',
    (grip) => ({ component: withComponents(grip, (code) => code !== 'trial') }),
    'cardinality',
    'Observation.component',
  ],
  [
    'grip',
    'no rule',
    (grip) => ({ component: withComponents(grip, (code) => code !== 'trial-rule') }),
    'cardinality',
    'Observation.component',
  ],
  [
    'grip',
    'the other hand',
    () => ({ code: { coding: [{ system: 'http://loinc.org', code: '83173-5' }] } }),
    'msk-side-1',
    'Observation',
  ],
  [
    'circumference',
    'an angle',
    () => ({ valueQuantity: { ...quantity, value: 40, code: 'deg' } }),
    'required-binding',
    'Observation.value.code',
  ],
  [
    'measure',
    'a circumference',
    () => ({ code: example('circumference').code }),
    'required-binding',
    'Observation.code',
  ],
  [
    'pain',
    'pain above ten',
    () => ({ valueQuantity: { ...quantity, value: 11, code: '{score}' } }),
    'max-value',
    'Observation.value.value',
  ],
  [
    'look-feel',
    'a value beside its components',
    () => ({ valueString: 'swollen' }),
    'cardinality',
    'Observation.value',
  ],
  [
    'look-feel',
    'a component of another code',
    ({ component = [] }) => ({ component: [...component, { code: other, valueString: 'x' }] }),
    'required-binding',
    'Observation.component[3].code',
  ],
  [
    'as-expected',
    'no version of the wording',
    (joint) => ({ component: withComponents(joint, (code) => code !== 'expected-definition') }),
    'cardinality',
    'Observation.component',
  ],
  [
    'screen',
    'a grade',
    () => ({ valueCodeableConcept: example('strength').valueCodeableConcept }),
    'required-binding',
    'Observation.value',
  ],
  [
    'screen',
    'a site',
    () => ({ bodySite: example('range').bodySite }),
    'cardinality',
    'Observation.bodySite',
  ],
  ['neurovascular', 'no element', () => ({ component: undefined }), 'cardinality', 'Observation.component'],
  ['gait', 'no component', () => ({ component: undefined }), 'cardinality', 'Observation.component'],
  ['on-body', 'no device', () => ({ valueCodeableConcept: undefined }), 'cardinality', 'Observation.value'],
  ['absent-part', 'no joint', () => ({ component: undefined }), 'cardinality', 'Observation.component'],
  [
    'not-assessed',
    'no reason',
    () => ({ dataAbsentReason: undefined }),
    'cardinality',
    'Observation.dataAbsentReason',
  ],
  [
    'not-assessed',
    'the reason of HL7 alone',
    ({ dataAbsentReason }) => ({ dataAbsentReason: { coding: dataAbsentReason?.coding?.slice(0, 1) } }),
    'cardinality',
    'Observation.dataAbsentReason.coding',
  ],
  [
    'exam',
    'no id of its document',
    () => ({ identifier: [{ value: '1' }] }),
    'cardinality',
    'Observation.identifier',
  ],
  [
    'exam',
    'no type',
    (exam) => ({ component: withComponents(exam, (code) => code !== 'exam-type') }),
    'cardinality',
    'Observation.component',
  ],
];

describe('a profile', () => {
  it.each(breaches)('of %s refuses %s', (id, _what, change, rule, place) => {
    const observation = example(id);
    const changed = JSON.parse(JSON.stringify({ ...observation, ...change(observation) })) as unknown;
    const errors = validate(changed).filter(({ severity }) => severity === 'error');
    expect(errors.map((issue) => [issue.rule, issue.expression])).toContainEqual([rule, place]);
  });
});

describe('the rules that an OperationOutcome names', () => {
  /** Names of rules as the source has them, but for the keys of invariants, which their own definitions hold. */
  function rulesInSource(): ReadonlySet<string> {
    const folder = new URL('../src/', import.meta.url);
    const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
    const texts = names
      .filter((name) => /^(fhir|http|trends)[/\\].*\.ts$/.test(name))
      .map((name) => readFileSync(new URL(name.replaceAll('\\', '/'), folder), 'utf8'));
    const named = texts.flatMap((text) => [
      ...[...text.matchAll(/\brule: ((?:'[\w-]+'|[^',;\n])+?)[,;\n]/g)].flatMap(([, held = '']) =>
        quoted(held),
      ),
      ...[...text.matchAll(/^const FAULTS = \{([^}]*(?:\}[^}]*)*?)^\} as const/gm)].flatMap(([, rows = '']) =>
        [...rows.matchAll(/^ {2}'?([\w-]+)'?: \{/gm)].map(([, name = '']) => name),
      ),
      ...[...text.matchAll(/^ {4}'json-[^;]*;/gm)].flatMap(([codes]) => quoted(codes)),
    ]);
    return new Set(named.filter((name) => !/^[a-z]{3}-\d+$/.test(name) && !/^[A-Z]/.test(name)));
  }

  const quoted = (text: string): readonly string[] =>
    [...text.matchAll(/'([\w-]+)'/g)].map(([, name = '']) => name);

  it('are all in the code system of rules', () => {
    const found = rulesInSource();
    expect(found.size).toBeGreaterThan(40);
    expect([...found].filter((name) => !Object.hasOwn(ruleNames, name))).toEqual([]);
  });
});

function withoutDisplays(resource: unknown): unknown {
  return JSON.parse(JSON.stringify(resource, (key, held: unknown) => (key === 'display' ? undefined : held)));
}

describe('the page on the profiles in DEVELOPERS.md', () => {
  const page = readFileSync(new URL('../DEVELOPERS.md', import.meta.url), 'utf8');
  const excerpts = [...page.matchAll(/^```json ([\w-]+)\n([^]*?)^```$/gm)].map(
    ([, id = '', text = '']) => [id as ProfileId, JSON.parse(text) as Record<string, unknown>] as const,
  );

  it('names each profile with its example', () => {
    const rows = profileIds.map((id) => `| \`msk-${id}\``);
    expect(rows.filter((row) => !page.includes(row))).toEqual([]);
    for (const id of profileIds)
      expect(page).toContain(`fhir-profiles/examples/Observation-example-${id}.json`);
  });

  it.each(excerpts)('shows of %s what its example has', (id, { component = [], ...excerpt }) => {
    const shown = example(id);
    expect(shown).toMatchObject(excerpt);
    for (const part of component as readonly object[]) {
      expect(shown.component?.map(withoutDisplays)).toContainEqual(part);
    }
  });

  it('has excerpts', () => {
    expect(excerpts.length).toBeGreaterThanOrEqual(5);
  });
});
