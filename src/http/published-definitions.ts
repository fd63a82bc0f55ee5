import { readFileSync, readdirSync } from 'node:fs';
import { parseJson, stringifyJson } from '../fhir/index.js';

/** A definition that the project publishes: an extension, a value set, a code system, a search parameter. */
export interface PublishedDefinition {
  readonly type: DefinitionType;
  readonly id: string;
  /** Canonical URL. */
  readonly url: string;
  readonly body: Buffer;
}

export const DEFINITION_TYPES = ['StructureDefinition', 'CodeSystem', 'ValueSet', 'SearchParameter'] as const;

export type DefinitionType = (typeof DEFINITION_TYPES)[number];

/** Reads fhir-profiles, which lies beside `src` and `dist`. Throws on a file that is no definition. */
export function readPublishedDefinitions(folder = PROFILES): readonly PublishedDefinition[] {
  const files = readdirSync(folder).filter((name) => name.endsWith('.json'));
  return files.sort().map((name) => definitionOf(name, readFileSync(new URL(name, folder), 'utf8')));
}

const PROFILES = new URL('../../fhir-profiles/', import.meta.url);

function definitionOf(name: string, text: string): PublishedDefinition {
  const parsed = parseJson(text);
  if (!parsed.ok) throw new Error(`fhir-profiles/${name} is not JSON: ${parsed.faults[0]?.sentence ?? ''}`);
  const { resourceType, id, url } = parsed.value as Partial<Record<string, unknown>>;
  const type = DEFINITION_TYPES.find((known) => known === resourceType);
  if (type === undefined || typeof id !== 'string' || typeof url !== 'string')
    throw new Error(`fhir-profiles/${name} is no definition with an id and a url`);
  return { type, id, url, body: Buffer.from(stringifyJson(parsed.value)) };
}
