import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { nativeInvariants } from '../exam/index.js';
import {
  compileValidator,
  DefinitionFault,
  issueOfJsonFault,
  parseJson,
  r4Definitions,
  readDefinition,
} from '../fhir/index.js';
import type { ConformanceResource, FhirIssue, PublishedDefinition, Validator } from '../fhir/index.js';
import type { Conformance } from '../http/index.js';
import { SettingsError } from './settings.js';

/** A definition with the file that it was read from. */
interface DefinitionFile {
  readonly file: string;
  readonly definition: PublishedDefinition;
}

/** Our own definitions lie beside `src` and `dist`. */
const OWN_FOLDER = fileURLToPath(new URL('../../fhir-profiles/', import.meta.url));

/** Says of a FHIR package what it is, and is no definition. */
const PACKAGE_MANIFEST = 'package.json';

/**
 * Reads our own definitions and those in the folders of a deployment, and compiles them.
 * @throws SettingsError with one line that names the file, the definition and the element at fault.
 */
export function openConformance(folders: readonly string[]): Conformance {
  const added = folders.flatMap(readFolder);
  const files = [...readFolder(OWN_FOLDER), ...added];
  refuseDoubles(files);
  const validate = compile(files);
  for (const one of added) refuseFaulty(one, validate);
  return { definitions: files.map(({ definition }) => definition), validate };
}

function readFolder(folder: string): readonly DefinitionFile[] {
  return namesIn(folder)
    .filter((name) => name.endsWith('.json') && !name.startsWith('.') && name !== PACKAGE_MANIFEST)
    .sort()
    .map((name) => readDefinitionFile(path.join(folder, name)));
}

function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder);
  } catch (error) {
    throw new SettingsError(`FHIR_PROFILES: ${folder} cannot be read as a folder (${codeOf(error)})`);
  }
}

function readDefinitionFile(file: string): DefinitionFile {
  const parsed = parseJson(textOf(file));
  if (!parsed.ok) {
    const [fault] = parsed.faults.map((one) => issueOfJsonFault(one));
    throw new SettingsError(`${file} is not JSON: ${fault?.diagnostics ?? ''}`);
  }
  const definition = readDefinition(parsed.value);
  if (definition !== undefined) return { file, definition };
  throw new SettingsError(`${file} is no definition of FHIR with an id and a url`);
}

function textOf(file: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(file));
  } catch (error) {
    throw new SettingsError(`${file} cannot be read (${codeOf(error)})`);
  }
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
}

/** What is served is told apart by type and id, and claimed by URL and version: neither may stand twice. */
function refuseDoubles(files: readonly DefinitionFile[]): void {
  const seen = new Map<string, string>();
  for (const { file, definition } of files) {
    const { type, id } = definition;
    for (const name of [`${type}/${id}`, versionedUrl(definition)]) {
      const first = seen.get(name);
      if (first !== undefined) throw new SettingsError(`${file} defines ${name}, as ${first} does already`);
      seen.set(name, file);
    }
  }
}

function versionedUrl({ url, content }: PublishedDefinition): string {
  const { version } = content;
  return typeof version === 'string' ? `${url}|${version}` : url;
}

const COMPILED: ReadonlySet<string> = new Set(['StructureDefinition', 'ValueSet', 'CodeSystem']);

function compile(files: readonly DefinitionFile[]): Validator {
  const conformance = files
    .filter(({ definition }) => COMPILED.has(definition.type))
    .map(({ definition }) => definition.content as unknown as ConformanceResource);
  try {
    return compileValidator(r4Definitions, { conformance, natives: nativeInvariants });
  } catch (error) {
    if (!(error instanceof DefinitionFault)) throw error;
    const at = files.find(({ definition: { url } }) => url === error.definition);
    throw new SettingsError(at === undefined ? error.message : `${at.file}: ${error.message}`);
  }
}

/** A definition that is not valid R4 would be compiled to less than its author meant. */
function refuseFaulty({ file, definition }: DefinitionFile, validate: Validator): void {
  const fault = validate(definition.content, definition.type).find(isFault);
  if (fault === undefined) return;
  throw new SettingsError(`${file}: ${definition.url}: ${fault.expression}: ${fault.diagnostics}`);
}

const isFault = ({ severity, code }: FhirIssue): boolean =>
  (severity === 'error' || severity === 'fatal') && code !== 'not-supported';
