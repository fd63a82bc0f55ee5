import { readdirSync } from 'node:fs';

export const PROFILES_FOLDER = new URL('../../../fhir-profiles/', import.meta.url);

/** The JSON files in the folder and in its examples, by their names from the folder: `examples/Observation-....json`. */
export function keptFiles(): readonly string[] {
  const names = readdirSync(PROFILES_FOLDER, { recursive: true, encoding: 'utf8' });
  return names.map((name) => name.replaceAll('\\', '/')).filter((name) => name.endsWith('.json'));
}
