/**
 * Makes everything in fhir-profiles/ from the catalogue, the profiles in tests/config/profiles/ and the exam's own code:
 *
 *   npx tsx tests/config/make-fhir-profiles.ts
 */
import { rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { format } from 'prettier';
import { codeSystems } from './profiles/code-systems.js';
import { conceptMaps } from './profiles/concept-maps.js';
import { exampleObservations } from './profiles/examples.js';
import { extensionDefinitions, lateralityValues } from './profiles/extensions.js';
import { keptFiles, PROFILES_FOLDER } from './profiles/kept-files.js';
import { observationProfiles } from './profiles/observation-profiles.js';
import type { Definition } from './profiles/published.js';
import { ownSearchParameters } from './profiles/search-parameters.js';
import { ruleSystem } from './profiles/validation-rules.js';
import { valueSets } from './profiles/value-sets.js';

const definitions = (): readonly Definition[] => [
  ...observationProfiles,
  ...extensionDefinitions,
  ...codeSystems,
  ruleSystem(),
  ...valueSets,
  lateralityValues,
  ...conceptMaps,
  ...ownSearchParameters,
];

/** Each file's name in the folder, and its text. */
export async function makeFhirProfiles(): Promise<ReadonlyMap<string, string>> {
  const resources = [
    ...definitions().map((resource) => ['', resource] as const),
    ...exampleObservations().map((resource) => ['examples/', resource] as const),
  ];
  const files = resources.map(async ([folder, resource]) => {
    const text = await format(JSON.stringify(resource), { parser: 'json', printWidth: 110 });
    return [`${folder}${resource.resourceType}-${resource.id ?? ''}.json`, text] as const;
  });
  return new Map(await Promise.all(files));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const made = await makeFhirProfiles();
  for (const name of keptFiles().filter((kept) => !made.has(kept))) rmSync(new URL(name, PROFILES_FOLDER));
  for (const [name, text] of made) writeFileSync(new URL(name, PROFILES_FOLDER), text);
}
