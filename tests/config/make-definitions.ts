/**
 * Makes src/fhir/definitions/r4-*.ts from the published FHIR R4 definitions (package hl7.fhir.core 4.0.1):
 *
 *   npx tsx tests/config/make-definitions.ts FOLDER...
 *
 * A FOLDER holds StructureDefinition, ValueSet and CodeSystem resources as JSON files, in any sub-folders, or the Bundles of
 * HL7's download of all definitions (profiles-types.json, profiles-resources.json, profiles-others.json, valuesets.json).
 */
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type {
  Bundle,
  CodeSystem,
  CodeSystemConcept,
  ElementDefinition,
  ElementDefinitionConstraint,
  Resource,
  StructureDefinition,
  ValueSet,
  ValueSetComposeInclude,
} from 'fhir/r4.js';
import { format } from 'prettier';
import type {
  ConstraintRow,
  Definitions,
  DemandedProfile,
  ElementRow,
  IncludedCodes,
  TypeDefinition,
  ValueSetCodes,
} from '../../src/fhir/definitions/definition.js';

/** The resource types in use. A further type is one more name here; the datatypes it reaches follow by themselves. */
const RESOURCE_TYPES = [
  'AuditEvent',
  'BodyStructure',
  'Bundle',
  'CapabilityStatement',
  'CodeSystem',
  'ConceptMap',
  'Condition',
  'DetectedIssue',
  'Device',
  'DiagnosticReport',
  'Encounter',
  'Flag',
  'Group',
  'Location',
  'Measure',
  'MeasureReport',
  'Observation',
  'OperationDefinition',
  'OperationOutcome',
  'Organization',
  'Parameters',
  'Patient',
  'Practitioner',
  'PractitionerRole',
  'Provenance',
  'SearchParameter',
  'ServiceRequest',
  'StructureDefinition',
  'Subscription',
  'ValueSet',
];

/** The profiles that R4 demands of vital signs (observation-vitalsigns.html), by id. */
const VITAL_SIGNS = [
  'vitalsigns',
  'vitalspanel',
  'resprate',
  'heartrate',
  'oxygensat',
  'bodytemp',
  'bodyheight',
  'headcircum',
  'bodyweight',
  'bmi',
  'bp',
];

/** Types that no resource has itself. */
const ABSTRACT: ReadonlySet<string> = new Set(['Resource', 'DomainResource']);

const STRUCTURES = 'http://hl7.org/fhir/StructureDefinition/';
const FHIR_TYPE = `${STRUCTURES}structuredefinition-fhir-type`;
const MAX_VALUE_SET = `${STRUCTURES}elementdefinition-maxValueSet`;
const BEST_PRACTICE = `${STRUCTURES}elementdefinition-bestpractice`;

type Published = StructureDefinition | ValueSet | CodeSystem;

/** The value set that a code must be of. */
type Bound = Pick<ElementRow, 'binding' | 'maxValueSet'>;

/** Every definition of the folder, by type and canonical URL. */
export type Library = ReadonlyMap<string, Published>;

/** Files of single definitions, and the Bundles of HL7's own download of all definitions. */
const DEFINITION_FILE = /(?:^|[\\/])(?:StructureDefinition|ValueSet|CodeSystem)-[^\\/]*\.json$/;
const DEFINITION_BUNDLE = /(?:^|[\\/])(?:profiles-(?:types|resources|others)|valuesets)\.json$/;

/** Reads each StructureDefinition, ValueSet and CodeSystem of the folders; where two have the same, the first folder speaks. */
export function readLibrary(...folders: readonly string[]): Library {
  const library = new Map<string, Published>();
  for (const resource of folders.flatMap((folder) => [...readFolder(folder)])) {
    const key = `${resource.resourceType} ${resource.url ?? ''}`;
    if (!library.has(key)) library.set(key, resource);
  }
  return library;
}

function* readFolder(folder: string): Generator<Published> {
  for (const file of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    const read = (): unknown => JSON.parse(readFileSync(join(folder, file), 'utf8'));
    if (DEFINITION_FILE.test(file)) yield read() as Published;
    else if (DEFINITION_BUNDLE.test(file)) {
      for (const { resource } of (read() as Bundle).entry ?? []) if (isPublished(resource)) yield resource;
    }
  }
}

const isPublished = (resource: Resource | undefined): resource is Published =>
  ['StructureDefinition', 'ValueSet', 'CodeSystem'].includes(resource?.resourceType ?? '');

/** The tables of the types in use and of every type they reach, with the vital signs profiles and what they bind. */
export function makeDefinitions(library: Library): Definitions {
  const types = reachedTypes(library);
  const published = VITAL_SIGNS.flatMap((id) => library.get(`StructureDefinition ${STRUCTURES}${id}`) ?? []);
  const profiles = published.flatMap((each) => (each.resourceType === 'StructureDefinition' ? [each] : []));
  const names = codesOf(library, 'http://hl7.org/fhir/resource-types');
  return {
    types,
    valueSets: [...boundSets(types, profiles)].sort().flatMap((url) => valueSetOf(library, url)),
    resourceTypes: names.filter((name) => !ABSTRACT.has(name)),
    profiles: profiles.map(differentialOf),
    demandedProfiles: profiles.flatMap(demandOf),
  };
}

function reachedTypes(library: Library): TypeDefinition[] {
  const types = new Map<string, TypeDefinition>();
  const waiting = [...RESOURCE_TYPES];
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (types.has(name)) continue;
    const type = typeOf(library, name);
    types.set(name, type);
    waiting.push(
      ...(type.base === undefined ? [] : [type.base]),
      ...type.elements.flatMap((row) => [...row.types, ...(row.profile === undefined ? [] : [row.profile])]),
    );
  }
  return [...types.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
}

/** Canonical URLs of the value sets that the types and profiles bind. */
function boundSets(
  types: readonly TypeDefinition[],
  profiles: readonly StructureDefinition[],
): ReadonlySet<string> {
  const rows: readonly Bound[] = [
    ...types.flatMap((type): readonly Bound[] => [type, ...type.elements]),
    ...profiles.flatMap((profile) => profile.differential?.element.map(boundOf) ?? []),
  ];
  return new Set(rows.flatMap(({ binding, maxValueSet }) => binding ?? maxValueSet ?? []));
}

function structureOf(library: Library, name: string): StructureDefinition {
  const structure = library.get(`StructureDefinition ${STRUCTURES}${name}`);
  if (structure?.resourceType !== 'StructureDefinition') throw new Error(`no StructureDefinition of ${name}`);
  return structure;
}

function typeOf(library: Library, name: string): TypeDefinition {
  const structure = structureOf(library, name);
  if (structure.kind === 'logical') throw new Error(`${name} is a logical model`);
  const base = structure.baseDefinition?.slice(STRUCTURES.length);
  const elements = structure.snapshot?.element ?? [];
  const constraints = elements.flatMap((element) => constraintsOf(structure, element));
  return {
    name,
    kind: structure.kind,
    ...(base === undefined ? {} : { base }),
    ...(elements[0] === undefined ? {} : boundOf(elements[0])),
    elements: hasOwnElements(structure) ? elements.filter(isOwn).flatMap((element) => rowOf(element)) : [],
    ...(constraints.length === 0 ? {} : { constraints }),
  };
}

/** A primitive's value is ruled in code; a profile on a datatype (SimpleQuantity) adds only invariants. */
const hasOwnElements = ({ kind, derivation }: StructureDefinition): boolean =>
  kind !== 'primitive-type' && derivation !== 'constraint';

/** Whether the type adds the element; what it inherits comes with its base and the types of its elements. */
const isOwn = (element: ElementDefinition): boolean => element.base?.path === element.path;

/** The steps below the type. */
const stepsOf = ({ path }: ElementDefinition): string => path.split('.').slice(1).join('.');

function rowOf(element: ElementDefinition): ElementRow[] {
  const path = stepsOf(element);
  if (path === '') return [];
  const types = element.type ?? [];
  const targets = types.flatMap((type) => (type.code === 'Reference' ? (type.targetProfile ?? []) : []));
  const targetNames = targets.map((target) => target.slice(STRUCTURES.length));
  const profile = types.flatMap((type) => type.profile ?? [])[0]?.slice(STRUCTURES.length);
  const content = element.contentReference?.split('.').slice(1).join('.');
  return [
    {
      path,
      min: element.min ?? 0,
      max: element.max === '*' ? '*' : Number(element.max),
      types: types.map((type) => typeCode(element.path, type)),
      ...(targetNames.length === 0 || targetNames.includes('Resource') ? {} : { targets: targetNames }),
      ...(profile === undefined ? {} : { profile }),
      ...boundOf(element),
      ...(content === undefined ? {} : { content }),
      ...(element.maxLength === undefined ? {} : { maxLength: element.maxLength }),
      ...(element.isModifier === true ? { modifier: true } : {}),
    },
  ];
}

/** The FHIR type; Resource.id is published as a string and ruled as an id (R4 resource, Resource.id: "id"). */
function typeCode(path: string, type: NonNullable<ElementDefinition['type']>[number]): string {
  if (path === 'Resource.id') return 'id';
  return type.extension?.find((extension) => extension.url === FHIR_TYPE)?.valueUrl ?? type.code;
}

/** The value set of a required binding, or the widest one that a looser binding allows. */
function boundOf({ binding }: ElementDefinition): Bound {
  const max = binding?.extension?.find(({ url }) => url === MAX_VALUE_SET)?.valueCanonical;
  if (binding?.strength === 'required' && binding.valueSet !== undefined)
    return { binding: withoutVersion(binding.valueSet) };
  return max === undefined ? {} : { maxValueSet: ALIASES.get(max) ?? withoutVersion(max) };
}

/** Expression.language names its widest set by the page of the media types' standard (BCP 13) where a ValueSet is due. */
const ALIASES: ReadonlyMap<string, string> = new Map([
  ['http://www.rfc-editor.org/bcp/bcp13.txt', 'http://hl7.org/fhir/ValueSet/mimetypes'],
]);

const withoutVersion = (canonical: string): string => canonical.split('|')[0] ?? canonical;

/**
 * The invariants that the type adds. One that it inherits names the type it comes from; one of the type itself comes again
 * on an element of that very type (an extension's extensions).
 */
function constraintsOf(
  { id, url, snapshot }: StructureDefinition,
  element: ElementDefinition,
): ConstraintRow[] {
  const root = snapshot?.element[0];
  const ofRoot = element === root ? [] : (root?.constraint ?? []).map(({ key }) => key);
  const own = (element.constraint ?? []).filter(
    ({ key, source = url }) => [url, id].includes(source) && !ofRoot.includes(key),
  );
  return own.map(({ key, severity, human, expression, extension }) => {
    if (expression === undefined) throw new Error(`${key} of ${element.path} has no FHIRPath`);
    const isAdvice = extension?.some((each) => each.url === BEST_PRACTICE && each.valueBoolean === true);
    const row = { path: stepsOf(element), key, severity, human, expression };
    return isAdvice === true ? { ...row, bestPractice: true } : row;
  });
}

/** What a profile changes, without prose and without what it repeats of all Observations. */
function differentialOf(profile: StructureDefinition): StructureDefinition {
  const { resourceType, url, version, name, status, kind, abstract, type, derivation } = profile;
  const { baseDefinition } = profile;
  const element = (profile.differential?.element ?? []).map(facetsOf);
  return {
    ...{
      resourceType,
      url,
      ...(version === undefined ? {} : { version }),
      name,
      status,
      kind,
      abstract,
      type,
    },
    ...(baseDefinition === undefined ? {} : { baseDefinition }),
    ...(derivation === undefined ? {} : { derivation }),
    differential: { element: element.filter((each) => Object.keys(each).some((key) => !PLACE.has(key))) },
  };
}

/** The members of an element that say where it is. */
const PLACE: ReadonlySet<string> = new Set(['id', 'path']);

/** What a validator holds an element to. */
function facetsOf(element: ElementDefinition): ElementDefinition {
  const { id = '', path, sliceName, slicing, type, min, max, constraint } = element;
  const isRoot = !path.includes('.');
  const { binding, maxValueSet } = boundOf(element);
  if (maxValueSet !== undefined) throw new Error(`${id} has a widest value set`);
  const given = Object.entries(element).filter(([key]) => /^(?:fixed|pattern)[A-Z]/.test(key));
  return {
    ...{ id, path, ...(sliceName === undefined ? {} : { sliceName }) },
    ...(slicing === undefined ? {} : { slicing }),
    ...(min === undefined || isRoot ? {} : { min }),
    ...(max === undefined || isRoot ? {} : { max }),
    ...(type === undefined ? {} : { type }),
    ...Object.fromEntries(given),
    ...(binding === undefined ? {} : { binding: { strength: 'required', valueSet: binding } }),
    ...(constraint === undefined ? {} : { constraint: constraint.map(invariantOf) }),
  };
}

const invariantOf = ({ key, severity, human, expression }: ElementDefinitionConstraint) => ({
  ...{ key, severity, human },
  ...(expression === undefined ? {} : { expression }),
});

/** The code that a profile fixes as one coding of Observation.code: an Observation with it must conform. */
function demandOf({ url, differential }: StructureDefinition): DemandedProfile[] {
  const fixed = (name: string): ElementDefinition | undefined =>
    differential?.element.find(({ id }) =>
      new RegExp(`^Observation\\.code\\.coding:\\w+\\.${name}$`).test(id ?? ''),
    );
  const [system, code] = [fixed('system')?.fixedUri, fixed('code')?.fixedCode];
  return system === undefined || code === undefined
    ? []
    : [{ type: 'Observation', system, code, profile: url }];
}

/** The codes of a value set; none when the library lacks it. */
function valueSetOf(library: Library, url: string): ValueSetCodes[] {
  const set = library.get(`ValueSet ${url}`);
  if (set?.resourceType !== 'ValueSet') return [];
  const { include, exclude = [] } = set.compose ?? { include: [] };
  if (exclude.length > 0) throw new Error(`${url} excludes codes`);
  return [{ url, include: include.map((each) => includeOf(library, url, each)) }];
}

function includeOf(library: Library, url: string, include: ValueSetComposeInclude): IncludedCodes {
  const { system, concept, filter = [], valueSet } = include;
  if (system === undefined || valueSet !== undefined) throw new Error(`${url} includes a value set`);
  const [first] = filter;
  if (first !== undefined) {
    if (filter.length > 1 || first.property !== 'canonical') throw new Error(`${url} filters codes`);
    return { system, canonical: first.value };
  }
  const codes = concept?.map(({ code }) => code) ?? codesOf(library, system);
  return codes.length === 0 ? { system } : { system, codes };
}

/** All codes of a code system, those below others too; none when it is not published by HL7. */
function codesOf(library: Library, system: string): string[] {
  const codeSystem = library.get(`CodeSystem ${system}`);
  return codeSystem?.resourceType === 'CodeSystem' ? flatten(codeSystem.concept ?? []) : [];
}

const flatten = (concepts: readonly CodeSystemConcept[]): string[] =>
  concepts.flatMap(({ code, concept }) => [code, ...flatten(concept ?? [])]);

const HEAD = `// Made by tests/config/make-definitions.ts from HL7 FHIR R4 4.0.1 (package hl7.fhir.core, licence CC0-1.0); not edited.\n`;

/** The sets as source text, with a name for each whole code system that is listed more than once. */
function writeSets(sets: readonly ValueSetCodes[]): { readonly lists: string; readonly sets: string } {
  const included = sets.flatMap(({ include }) => include).filter(({ codes }) => codes !== undefined);
  const named = new Map<string, string>();
  for (const [index, { system, codes }] of included.entries()) {
    const list = JSON.stringify(codes);
    const isRepeated = included.findIndex((each) => JSON.stringify(each.codes) === list) < index;
    if (isRepeated) named.set(list, nameOf(system));
  }
  const lists = [...named].map(([list, name]) => `const ${name}: readonly string[] = ${list};`);
  const text = [...named].reduce((all, [list, name]) => all.replaceAll(list, name), JSON.stringify(sets));
  return { lists: lists.join('\n'), sets: text };
}

/** `resourceTypes` for http://hl7.org/fhir/resource-types. */
const nameOf = (system: string): string =>
  system.slice(system.lastIndexOf('/') + 1).replaceAll(/-(.)/g, (_, letter: string) => letter.toUpperCase());

async function write(file: string, text: string): Promise<void> {
  const config = JSON.parse(readFileSync(new URL('prettier.json', import.meta.url), 'utf8')) as object;
  const target = new URL(`../../src/fhir/definitions/${file}`, import.meta.url);
  writeFileSync(target, await format(HEAD + text, { ...config, parser: 'typescript' }));
}

async function main(folders: readonly string[]): Promise<void> {
  const library = readLibrary(...folders);
  const { types, valueSets, resourceTypes, profiles, demandedProfiles } = makeDefinitions(library);
  const { lists, sets } = writeSets(valueSets);
  const missing = [
    ...[...boundSets(types, profiles)].map((url) => `ValueSet ${url}`),
    ...VITAL_SIGNS.map((id) => `StructureDefinition ${STRUCTURES}${id}`),
  ].filter((key) => !library.has(key));
  if (missing.length > 0) throw new Error(`the folders lack ${missing.join(', ')}`);
  await write(
    'r4-types.ts',
    `import type { TypeDefinition } from './definition.js';
    /** Elements, cardinalities, types, bindings, reference targets and invariants of FHIR R4 4.0.1. */
    export const r4Types: readonly TypeDefinition[] = ${JSON.stringify(types)};`,
  );
  await write(
    'r4-codes.ts',
    `import type { ValueSetCodes } from './definition.js';
    ${lists}
    /** The value sets in FHIR R4 4.0.1 that codes must be of: those of required bindings, and the widest ones of others. */
    export const r4ValueSets: readonly ValueSetCodes[] = ${sets};
    /** Names of the resource types of FHIR R4 4.0.1. */
    export const r4ResourceTypes: readonly string[] = ${JSON.stringify(resourceTypes)};`,
  );
  await write(
    'r4-profiles.ts',
    `import type { StructureDefinition } from 'fhir/r4.js';
    import type { DemandedProfile } from './definition.js';
    /** The vital signs profiles of FHIR R4 4.0.1: what each changes, without prose. */
    export const r4Profiles: readonly StructureDefinition[] = ${JSON.stringify(profiles)};
    /** The codes by which R4 tells a vital sign, each with the profile that must then be kept. */
    export const r4DemandedProfiles: readonly DemandedProfile[] = ${JSON.stringify(demandedProfiles)};`,
  );
}

const [, script, ...folders] = process.argv;
if (script === fileURLToPath(import.meta.url)) {
  if (folders.length === 0) throw new Error('name the folders of the published definitions');
  await main(folders);
}
