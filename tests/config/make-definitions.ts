/**
 * Makes src/fhir/definitions/r4-*.ts from the published FHIR R4 definitions (package hl7.fhir.core 4.0.1):
 *
 *   npx tsx tests/config/make-definitions.ts FOLDER
 *
 * FOLDER holds StructureDefinition, ValueSet and CodeSystem resources as JSON files, in any sub-folders.
 */
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type {
  CodeSystem,
  CodeSystemConcept,
  ElementDefinition,
  StructureDefinition,
  ValueSet,
} from 'fhir/r4.js';
import { format } from 'prettier';
import type {
  Definitions,
  ElementRow,
  TypeDefinition,
  ValueSetCodes,
} from '../../src/fhir/definitions/definition.js';

/** The resource types in use. A further type is one more name here; the datatypes it reaches follow by themselves. */
const RESOURCE_TYPES = ['Observation', 'Patient', 'Encounter', 'Location', 'Practitioner', 'Provenance'];

/** Types that no resource has itself. */
const ABSTRACT: ReadonlySet<string> = new Set(['Resource', 'DomainResource']);

const STRUCTURES = 'http://hl7.org/fhir/StructureDefinition/';
const FHIR_TYPE = `${STRUCTURES}structuredefinition-fhir-type`;

type Published = StructureDefinition | ValueSet | CodeSystem;

/** Every definition of the folder, by type and canonical URL. */
export type Library = ReadonlyMap<string, Published>;

/** Reads each StructureDefinition, ValueSet and CodeSystem of the folder and the folders in it. */
export function readLibrary(folder: string): Library {
  const library = new Map<string, Published>();
  for (const file of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    if (!/(?:^|[\\/])(?:StructureDefinition|ValueSet|CodeSystem)-[^\\/]*\.json$/.test(file)) continue;
    const resource = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Published;
    library.set(`${resource.resourceType} ${resource.url ?? ''}`, resource);
  }
  return library;
}

/** The tables of the types in use and of every type they reach. */
export function makeDefinitions(library: Library): Definitions {
  const types = new Map<string, TypeDefinition>();
  const waiting = [...RESOURCE_TYPES];
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (types.has(name)) continue;
    const type = typeOf(library, name);
    types.set(name, type);
    waiting.push(
      ...(type.base === undefined ? [] : [type.base]),
      ...type.elements.flatMap((row) => row.types),
    );
  }
  const sorted = [...types.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
  const bindings = sorted.flatMap((type) => type.elements.flatMap((row) => row.binding ?? []));
  return {
    types: sorted,
    valueSets: [...new Set(bindings)].sort().flatMap((url) => valueSetOf(library, url)),
    resourceTypes: codesOf(library, 'http://hl7.org/fhir/resource-types').filter(
      (name) => !ABSTRACT.has(name),
    ),
  };
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
  const elements = structure.kind === 'primitive-type' ? [] : ownElements(structure);
  return { name, kind: structure.kind, ...(base === undefined ? {} : { base }), elements };
}

/** The elements that the type adds; what it inherits comes with its base and the types of its elements. */
function ownElements(structure: StructureDefinition): ElementRow[] {
  const elements = structure.snapshot?.element ?? [];
  return elements
    .filter((element) => element.base?.path === element.path)
    .flatMap((element) => rowOf(element));
}

function rowOf(element: ElementDefinition): ElementRow[] {
  const [, ...steps] = element.path.split('.');
  if (steps.length === 0) return [];
  const types = element.type ?? [];
  const targets = types.flatMap((type) => (type.code === 'Reference' ? (type.targetProfile ?? []) : []));
  const targetNames = targets.map((target) => target.slice(STRUCTURES.length));
  const profile = types.flatMap((type) => type.profile ?? [])[0]?.slice(STRUCTURES.length);
  const binding = element.binding?.strength === 'required' ? element.binding.valueSet : undefined;
  const content = element.contentReference?.split('.').slice(1).join('.');
  return [
    {
      path: steps.join('.'),
      min: element.min ?? 0,
      max: element.max === '*' ? '*' : Number(element.max),
      types: types.map((type) => typeCode(element.path, type)),
      ...(targetNames.length === 0 || targetNames.includes('Resource') ? {} : { targets: targetNames }),
      ...(profile === undefined ? {} : { profile }),
      ...(binding === undefined ? {} : { binding: withoutVersion(binding) }),
      ...(content === undefined ? {} : { content }),
    },
  ];
}

/** The FHIR type; Resource.id is published as a string and ruled as an id (R4 resource, Resource.id: "id"). */
function typeCode(path: string, type: NonNullable<ElementDefinition['type']>[number]): string {
  if (path === 'Resource.id') return 'id';
  return type.extension?.find((extension) => extension.url === FHIR_TYPE)?.valueUrl ?? type.code;
}

const withoutVersion = (canonical: string): string => canonical.split('|')[0] ?? canonical;

/** The codes of a value set, or none when one of its code systems has no published list. */
function valueSetOf(library: Library, url: string): ValueSetCodes[] {
  const set = library.get(`ValueSet ${url}`);
  if (set?.resourceType !== 'ValueSet') throw new Error(`no ValueSet ${url}`);
  if (set.compose?.exclude !== undefined) throw new Error(`${url} excludes codes`);
  const include = (set.compose?.include ?? []).map(({ system = '', concept, filter }) => {
    if (filter !== undefined) throw new Error(`${url} filters codes`);
    return { system, codes: concept?.map(({ code }) => code) ?? codesOf(library, system) };
  });
  return include.some(({ codes }) => codes.length === 0) ? [] : [{ url, include }];
}

/** All codes of a code system, those below others too; none when it is not published by HL7. */
function codesOf(library: Library, system: string): string[] {
  const codeSystem = library.get(`CodeSystem ${system}`);
  return codeSystem?.resourceType === 'CodeSystem' ? flatten(codeSystem.concept ?? []) : [];
}

const flatten = (concepts: readonly CodeSystemConcept[]): string[] =>
  concepts.flatMap(({ code, concept }) => [code, ...flatten(concept ?? [])]);

const HEAD = `// Made by tests/config/make-definitions.ts from HL7 FHIR R4 4.0.1 (package hl7.fhir.core, licence CC0-1.0); not edited.\n`;

async function write(file: string, text: string): Promise<void> {
  const config = JSON.parse(readFileSync(new URL('prettier.json', import.meta.url), 'utf8')) as object;
  const target = new URL(`../../src/fhir/definitions/${file}`, import.meta.url);
  writeFileSync(target, await format(HEAD + text, { ...config, parser: 'typescript' }));
}

async function main(folder: string): Promise<void> {
  const { types, valueSets, resourceTypes } = makeDefinitions(readLibrary(folder));
  await write(
    'r4-types.ts',
    `import type { TypeDefinition } from './definition.js';
    /** Elements, cardinalities, types, required bindings and reference targets of FHIR R4 4.0.1. */
    export const r4Types: readonly TypeDefinition[] = ${JSON.stringify(types)};`,
  );
  await write(
    'r4-codes.ts',
    `import type { ValueSetCodes } from './definition.js';
    /** The value sets of required bindings in FHIR R4 4.0.1 that have a published list. */
    export const r4ValueSets: readonly ValueSetCodes[] = ${JSON.stringify(valueSets)};
    /** Names of the resource types of FHIR R4 4.0.1. */
    export const r4ResourceTypes: readonly string[] = ${JSON.stringify(resourceTypes)};`,
  );
}

const [, script, folder] = process.argv;
if (script === fileURLToPath(import.meta.url)) {
  if (folder === undefined) throw new Error('name the folder of the published definitions');
  await main(folder);
}
