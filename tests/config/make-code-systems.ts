/**
 * Makes fhir-profiles/CodeSystem-msk-*.json from the catalogue:
 *
 *   npx tsx tests/config/make-code-systems.ts
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { format } from 'prettier';
import { publishedCodeSystems } from '../../src/catalogue/index.js';

const FOLDER = new URL('../../fhir-profiles/', import.meta.url);

/** Each file's name and text. */
export async function makeCodeSystems(): Promise<ReadonlyMap<string, string>> {
  const files = publishedCodeSystems().map(
    async (system) =>
      [
        `CodeSystem-${system.id ?? ''}.json`,
        await format(JSON.stringify(system), { parser: 'json', printWidth: 110 }),
      ] as const,
  );
  return new Map(await Promise.all(files));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const [name, text] of await makeCodeSystems()) writeFileSync(new URL(name, FOLDER), text);
}
