/**
 * Packs fhir-profiles/ as a FHIR package, which other validators load, in dist/:
 *
 *   npm run fhir-package
 *
 * The form is that of HL7's FHIR NPM packages: `package/` with its manifest, an index and the definitions; examples in
 * `package/example/`. The same definitions make the same bytes.
 */
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { create } from 'tar';
import { CANONICAL, DEFINITIONS_VERSION } from '../../src/catalogue/index.js';
import { keptFiles, PROFILES_FOLDER } from './profiles/kept-files.js';
import { DATE } from './profiles/published.js';

const NAME = 'limbledger.fhir.msk';

/** What an entry of the index tells of a resource, where the resource has it. */
const INDEXED = ['resourceType', 'id', 'url', 'version', 'kind', 'type', 'derivation', 'content'] as const;

const manifest = {
  name: NAME,
  version: DEFINITIONS_VERSION,
  canonical: CANONICAL,
  url: CANONICAL,
  title: 'Limbledger: findings of the musculoskeletal examination',
  description:
    'Profiles of the Observations of a bedside musculoskeletal examination, with their value sets, code systems, maps, extensions and search parameters.',
  author: 'Limbledger',
  license: 'Apache-2.0',
  type: 'Conformance',
  date: `${DATE.replaceAll('-', '')}000000`,
  fhirVersions: ['4.0.1'],
  dependencies: { 'hl7.fhir.r4.core': '4.0.1' },
  directories: { lib: 'package', example: 'example' },
};

/** Writes the package into a folder; the path of its file. */
export function makeFhirPackage(folder: string): string {
  const staged = mkdtempSync(path.join(tmpdir(), 'fhir-package-'));
  try {
    const names = stage(path.join(staged, 'package'));
    mkdirSync(folder, { recursive: true });
    const file = path.join(folder, `${NAME}-${DEFINITIONS_VERSION}.tgz`);
    create(
      {
        file,
        cwd: staged,
        sync: true,
        portable: true,
        gzip: { portable: true, level: 9 },
        mtime: new Date(DATE),
      },
      names.map((name) => `package/${name}`),
    );
    return file;
  } finally {
    rmSync(staged, { recursive: true });
  }
}

/** Lays the package's files into a folder; their names in the order in which they are packed. */
function stage(folder: string): readonly string[] {
  const definitions = keptFiles()
    .filter((name) => !name.includes('/'))
    .sort();
  const examples = keptFiles()
    .filter((name) => name.startsWith('examples/'))
    .sort();
  mkdirSync(path.join(folder, 'example'), { recursive: true });
  const put = (name: string, content: unknown): string => {
    writeFileSync(path.join(folder, name), `${JSON.stringify(content, null, 2)}\n`);
    return name;
  };
  const copy = (name: string, to: string): string => {
    copyFileSync(new URL(name, PROFILES_FOLDER), path.join(folder, to));
    return to;
  };
  return [
    put('package.json', manifest),
    put('.index.json', indexOf(definitions)),
    ...definitions.map((name) => copy(name, name)),
    put('example/.index.json', indexOf(examples)),
    ...examples.map((name) => copy(name, name.replace('examples/', 'example/'))),
  ];
}

/** The index by which a reader finds a resource without opening every file. */
function indexOf(names: readonly string[]): unknown {
  return { 'index-version': 2, files: names.map(entryOf) };
}

function entryOf(name: string): Readonly<Record<string, unknown>> {
  const resource = JSON.parse(readFileSync(new URL(name, PROFILES_FOLDER), 'utf8')) as Record<
    string,
    unknown
  >;
  const told = INDEXED.filter((field) => typeof resource[field] === 'string');
  return {
    filename: path.basename(name),
    ...Object.fromEntries(told.map((field) => [field, resource[field]])),
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.stdout.write(`${makeFhirPackage(fileURLToPath(new URL('../../dist/', import.meta.url)))}\n`);
}
