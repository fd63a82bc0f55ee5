import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { extract } from 'tar';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { profileIds } from '../src/catalogue/index.js';
import { compileValidator, r4Definitions, type ConformanceResource } from '../src/fhir/index.js';
import { makeFhirPackage } from './config/make-fhir-package.js';
import { keptFiles } from './config/profiles/kept-files.js';

let folder: string;
let file: string;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'fhir-package-test-'));
  file = makeFhirPackage(folder);
  extract({ file, cwd: folder, sync: true });
});

afterAll(() => {
  rmSync(folder, { recursive: true });
});

const unpacked = (name: string): Readonly<Record<string, unknown>> =>
  JSON.parse(readFileSync(path.join(folder, 'package', name), 'utf8')) as Readonly<Record<string, unknown>>;

// HL7, FHIR NPM Package Specification (from memory): the manifest's fields and the place of files in `package/`.
it('the FHIR package says what it is, for which FHIR, and on what it stands', () => {
  expect(unpacked('package.json')).toMatchObject({
    name: expect.stringMatching(/^[a-z]\w*(\.[a-z]\w*)+$/) as unknown,
    version: expect.stringMatching(/^\d+\.\d+\.\d+$/) as unknown,
    canonical: 'https://limbledger.example/fhir',
    fhirVersions: ['4.0.1'],
    dependencies: { 'hl7.fhir.r4.core': '4.0.1' },
  });
});

it.each([
  ['definition', '', (name: string) => !name.includes('/')],
  ['example', 'example/', (name: string) => name.includes('/')],
])('the FHIR package holds every %s, each in the index of its folder', (_what, place, isThere) => {
  const { files } = unpacked(`${place}.index.json`) as { readonly files: readonly { filename: string }[] };
  const kept = keptFiles().filter(isThere);
  expect(files.map(({ filename }) => filename)).toEqual(kept.map((name) => path.basename(name)).sort());
  for (const { filename, ...told } of files) expect(unpacked(`${place}${filename}`)).toMatchObject(told);
});

it('the definitions of the FHIR package are all that a validator needs for its examples', () => {
  const names = readdirSync(path.join(folder, 'package')).filter((name) => /^[A-Z].*\.json$/.test(name));
  const conformance = names.map(unpacked).flatMap(conformanceOf);
  const validate = compileValidator(r4Definitions, { conformance });
  const examples = readdirSync(path.join(folder, 'package', 'example')).filter((name) => /^[A-Z]/.test(name));
  expect(examples.length).toBe(profileIds.length);
  for (const name of examples) {
    const issues = validate(unpacked(`example/${name}`)).filter(({ rule }) => rule !== 'dom-6');
    expect(issues, name).toEqual([]);
  }
});

function conformanceOf(resource: Readonly<Record<string, unknown>>): readonly ConformanceResource[] {
  const isCompiled = ['StructureDefinition', 'ValueSet', 'CodeSystem'].includes(
    String(resource['resourceType']),
  );
  return isCompiled ? [resource as unknown as ConformanceResource] : [];
}

it('the FHIR package is the same file when it is made again', () => {
  const again = mkdtempSync(path.join(tmpdir(), 'fhir-package-test-'));
  expect(readFileSync(makeFhirPackage(again)).equals(readFileSync(file))).toBe(true);
  rmSync(again, { recursive: true });
});
