import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const folder = fileURLToPath(new URL('../../../shared/fhir-r4', import.meta.url));

/** Folder of the published R4 material (HL7 FHIR R4 4.0.1, CC0-1.0), when it is there; tests that need it skip else. */
export const publishedFolder: string | undefined = existsSync(folder) ? folder : undefined;

/** Text of a published file, by its path below the folder. */
export function published(path: string): string {
  return readFileSync(join(folder, path), 'utf8');
}

/** Paths of the published examples of these resource types. */
export function publishedExamples(types: readonly string[]): readonly string[] {
  if (publishedFolder === undefined) return [];
  const files = readdirSync(join(folder, 'examples'));
  return files.filter((file) => types.includes(file.split('-')[0] ?? '')).map((file) => `examples/${file}`);
}

/** Paths of the published definitions: structures, terminology, search parameters and operations. */
export function publishedDefinitions(): readonly string[] {
  if (publishedFolder === undefined) return [];
  return ['definitions', 'terminology', 'search-parameters', 'operations'].flatMap((name) =>
    readdirSync(join(folder, name)).map((file) => `${name}/${file}`),
  );
}
