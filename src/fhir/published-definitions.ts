import { r4Definitions } from './definitions/index.js';
import { type JsonValue, stringifyJson } from './json.js';
import type { Validator } from './validate.js';

/** Types of the definitions that are published: what a FHIR package is made of, as far as it has a canonical URL. */
export const DEFINITION_TYPES = [
  'StructureDefinition',
  'CodeSystem',
  'ValueSet',
  'ConceptMap',
  'SearchParameter',
  'OperationDefinition',
  'CapabilityStatement',
  'ImplementationGuide',
] as const;

export type DefinitionType = (typeof DEFINITION_TYPES)[number];

/** A definition that a service works by and publishes: one of its own, or one that a deployment added. */
export interface PublishedDefinition {
  readonly type: DefinitionType;
  readonly id: string;
  /** Canonical URL. */
  readonly url: string;
  readonly content: { readonly [name: string]: JsonValue };
  /** Compact JSON in UTF-8, as it is sent. */
  readonly body: Buffer;
}

/** A JSON value as a definition; undefined when it is none, or has no id or URL. */
export function readDefinition(value: JsonValue): PublishedDefinition | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return undefined;
  const content = value as PublishedDefinition['content'];
  const { resourceType, id, url } = content;
  const type = DEFINITION_TYPES.find((known) => known === resourceType);
  if (type === undefined || typeof id !== 'string' || typeof url !== 'string') return undefined;
  return { type, id, url, content, body: Buffer.from(stringifyJson(content)) };
}

/** Canonical URLs of the profiles on a resource type; profiles on datatypes, extensions among them, are none. */
export function profilesOn(type: string, definitions: readonly PublishedDefinition[]): readonly string[] {
  return definitions
    .filter((definition) => definition.type === 'StructureDefinition')
    .filter(({ content }) => content['derivation'] === 'constraint' && content['type'] === type)
    .filter(({ content }) => content['kind'] === 'resource')
    .map(({ url }) => url);
}

/** The resource types that the rules of R4 are at hand of. */
export const VALIDATED_TYPES: ReadonlySet<string> = new Set(
  r4Definitions.types
    .filter(({ kind, name }) => kind === 'resource' && r4Definitions.resourceTypes.includes(name))
    .map(({ name }) => name),
);

/** R4's own definitions are of this version. */
const R4_VERSION = '4.0.1';
const R4_TYPE = 'http://hl7.org/fhir/StructureDefinition/';

/** Whether resources can be held against a profile, of one version where the canonical URL names it. */
export function isKnownProfile(
  canonical: string,
  { profiles }: Pick<Validator, 'profiles'>,
  definitions: readonly PublishedDefinition[],
): boolean {
  const [url = '', version] = canonical.split('|');
  const isOfType = url.startsWith(R4_TYPE) && VALIDATED_TYPES.has(url.slice(R4_TYPE.length));
  if (!isOfType && !profiles.includes(url)) return false;
  const given = definitions.filter((one) => one.type === 'StructureDefinition' && one.url === url);
  const versions = given.length === 0 ? [R4_VERSION] : given.map(({ content }) => content['version']);
  return version === undefined || versions.includes(version);
}
