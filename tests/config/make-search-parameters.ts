/**
 * Makes src/fhir/definitions/r4-search-parameters.ts from the published FHIR R4 SearchParameters (package hl7.fhir.core
 * 4.0.1):
 *
 *   npx tsx tests/config/make-search-parameters.ts FOLDER...
 *
 * A FOLDER holds them one by one as SearchParameter-*.json, in any sub-folders, or as the Bundle search-parameters.json of
 * HL7's download of all definitions.
 */
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Bundle, Resource, SearchParameter } from 'fhir/r4.js';
import { format } from 'prettier';
import type { SearchParameterRow } from '../../src/fhir/definitions/search-parameter.js';
import { RESOURCE_TYPES } from '../../src/fhir/resource-types.js';

const PARAMETER_FILE = /(?:^|[\\/])SearchParameter-[^\\/]*\.json$/;
const PARAMETER_BUNDLE = /(?:^|[\\/])search-parameters\.json$/;

/** Every SearchParameter of the folders, by code; where two have the same URL, the first folder speaks. */
export function readParameters(...folders: readonly string[]): readonly SearchParameter[] {
  const parameters = new Map<string, SearchParameter>();
  for (const parameter of folders.flatMap((folder) => [...readFolder(folder)])) {
    if (!parameters.has(parameter.url)) parameters.set(parameter.url, parameter);
  }
  return [...parameters.values()].sort((one, other) => (one.code < other.code ? -1 : 1));
}

function* readFolder(folder: string): Generator<SearchParameter> {
  for (const file of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    const read = (): unknown => JSON.parse(readFileSync(join(folder, file), 'utf8'));
    if (PARAMETER_FILE.test(file)) yield read() as SearchParameter;
    else if (PARAMETER_BUNDLE.test(file)) {
      for (const { resource } of (read() as Bundle).entry ?? []) if (isParameter(resource)) yield resource;
    }
  }
}

const isParameter = (resource: Resource | undefined): resource is SearchParameter =>
  resource?.resourceType === 'SearchParameter';

/** The parameters of each stored type, and those of every type under `Resource`. */
export function makeSearchParameters(
  parameters: readonly SearchParameter[],
): Readonly<Record<string, readonly SearchParameterRow[]>> {
  return Object.fromEntries(
    ['Resource', ...RESOURCE_TYPES].map((type) => [
      type,
      parameters
        .filter(({ base }) => (base as readonly string[]).includes(type))
        .flatMap((parameter) => rowOf(parameter, type)),
    ]),
  );
}

/** The row of a parameter; none where it has no expression (`_text`, `_content`), or a meaning all of its own (`near`). */
function rowOf(parameter: SearchParameter, type: string): readonly SearchParameterRow[] {
  const { code, type: kind, url, component, expression } = parameter;
  if (expression === undefined || kind === 'special') return [];
  const targets = targetsOf(parameter);
  return [
    {
      code,
      kind,
      definition: url,
      expression: partOf(type, expression),
      ...(targets === undefined ? {} : { targets }),
      ...(component === undefined ? {} : { components: component.map(({ definition }) => definition) }),
    },
  ];
}

/** More targets than one element ever lists: the parameter names every type there is. */
const EVERY_TYPE = 100;

function targetsOf({ target }: SearchParameter): readonly string[] | undefined {
  return target === undefined || target.length > EVERY_TYPE ? undefined : target;
}

/** The alternatives of a union that start at the type, as the standard writes them. */
function partOf(type: string, expression: string): string {
  const starts = new RegExp(String.raw`^\(?${type}\b`);
  return expression
    .split('|')
    .map((part) => part.trim())
    .filter((part) => starts.test(part))
    .join(' | ');
}

async function main(folders: readonly string[]): Promise<void> {
  const rows = makeSearchParameters(readParameters(...folders));
  const config = JSON.parse(readFileSync(new URL('prettier.json', import.meta.url), 'utf8')) as object;
  const text = `// Made by tests/config/make-search-parameters.ts from HL7 FHIR R4 4.0.1 (package hl7.fhir.core, licence CC0-1.0); not edited.
    import type { SearchParameterRow } from './search-parameter.js';
    /** The search parameters of FHIR R4 4.0.1 for each stored type, and under \`Resource\` those of every type. */
    export const r4SearchParameters: Readonly<Record<string, readonly SearchParameterRow[]>> = ${JSON.stringify(rows)};`;
  const target = new URL('../../src/fhir/definitions/r4-search-parameters.ts', import.meta.url);
  writeFileSync(target, await format(text, { ...config, parser: 'typescript' }));
}

const [, script, ...folders] = process.argv;
if (script === fileURLToPath(import.meta.url)) {
  if (folders.length === 0) throw new Error('name the folders of the published search parameters');
  await main(folders);
}
