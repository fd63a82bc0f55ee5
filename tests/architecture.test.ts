import { readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const SRC = path.join(ROOT, 'src');

/** Which room may import which: imports go one way. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  catalogue: [],
  fhir: [],
  exam: ['catalogue', 'fhir'],
  trends: ['catalogue', 'fhir'],
  ward: ['catalogue', 'fhir', 'exam', 'trends'],
  pages: ['catalogue', 'exam', 'trends', 'ward'],
  feeds: ['catalogue', 'fhir', 'exam', 'store'],
  store: ['catalogue', 'fhir'],
  auth: ['fhir'],
  http: ['catalogue', 'fhir', 'exam', 'trends', 'ward', 'pages', 'feeds', 'store', 'auth'],
  cli: ['catalogue', 'fhir', 'exam', 'trends', 'ward', 'pages', 'feeds', 'store', 'auth', 'http'],
};

interface Import {
  readonly from: string;
  readonly to: string;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'))
    .map((name) => path.join(folder, name));
}

/** Every relative import, export-from and dynamic import of a file, type-only ones included. */
function importsOf(file: string, text = readFileSync(file, 'utf8')): Import[] {
  return ts
    .preProcessFile(text)
    .importedFiles.filter(({ fileName }) => fileName.startsWith('.'))
    .map(({ fileName }) => ({
      from: path.relative(SRC, file).replace(/\.tsx?$/, ''),
      to: path.relative(SRC, path.resolve(path.dirname(file), fileName)).replace(/\.js$/, ''),
    }));
}

const roomOf = (file: string): string => file.split(path.sep)[0] ?? '';

function forbidden(imports: readonly Import[]): string[] {
  return imports
    .filter(({ from, to }) => roomOf(from) !== roomOf(to) && !MAY_IMPORT[roomOf(from)]?.includes(roomOf(to)))
    .map(({ from, to }) => `${from} imports ${to}`);
}

function sideDoors(imports: readonly Import[]): string[] {
  return imports
    .filter(({ from, to }) => roomOf(from) !== roomOf(to) && to !== path.join(roomOf(to), 'index'))
    .map(({ from, to }) => `${from} enters ${to} by a side door`);
}

function cycles(imports: readonly Import[]): string[] {
  const next = new Map<string, string[]>();
  for (const { from, to } of imports) next.set(from, [...(next.get(from) ?? []), to]);
  const found: string[] = [];
  const state = new Map<string, 'open' | 'done'>();
  const visit = (file: string, trail: readonly string[]): void => {
    if (state.get(file) === 'done') return;
    if (state.get(file) === 'open') {
      found.push([...trail.slice(trail.indexOf(file)), file].join(' -> '));
      return;
    }
    state.set(file, 'open');
    for (const to of next.get(file) ?? []) visit(to, [...trail, file]);
    state.set(file, 'done');
  };
  for (const file of next.keys()) visit(file, []);
  return found;
}

const imports = sourceFiles(SRC).flatMap((file) => importsOf(file));

describe('the rooms of src', () => {
  it('are those of the table, and nothing else lies in src', () => {
    const rooms = readdirSync(SRC).filter((name) => statSync(path.join(SRC, name)).isDirectory());
    expect(rooms.filter((room) => !(room in MAY_IMPORT))).toEqual([]);
    expect(readdirSync(SRC).filter((name) => !rooms.includes(name))).toEqual([]);
  });

  it('import one way', () => {
    expect(forbidden(imports)).toEqual([]);
  });

  it('are entered by their index alone', () => {
    expect(sideDoors(imports)).toEqual([]);
  });

  it('have no cycle, type-only imports included', () => {
    expect(cycles(imports)).toEqual([]);
  });

  it('name each export of their index', () => {
    const stars = readdirSync(SRC).filter((room) => {
      const index = path.join(SRC, room, 'index.ts');
      return statSync(index, { throwIfNoEntry: false }) && /export\s+\*/.test(readFileSync(index, 'utf8'));
    });
    expect(stars).toEqual([]);
  });
});

describe('the guards of the rooms, seen to fail', () => {
  it('catch an import against the order', () => {
    const file = path.join(SRC, 'catalogue/joints.ts');
    expect(forbidden(importsOf(file, "import type { A } from '../store/index.js';"))).toHaveLength(1);
  });

  it('catch a side door', () => {
    const file = path.join(SRC, 'exam/document.ts');
    expect(sideDoors(importsOf(file, "export { a } from '../catalogue/joints.js';"))).toHaveLength(1);
  });

  it('catch a type-only cycle', () => {
    const a = importsOf(path.join(SRC, 'fhir/a.ts'), "import type { B } from './b.js';");
    const b = importsOf(path.join(SRC, 'fhir/b.ts'), "import type { A } from './a.js';");
    expect(cycles([...a, ...b])).toHaveLength(1);
  });
});

describe('the top level', () => {
  it('holds what was agreed and nothing else', () => {
    const agreed = [
      'README.md',
      'DEVELOPERS.md',
      'LICENSE',
      'package.json',
      'package-lock.json',
      'tsconfig.json',
      'src',
      'migrations',
      'fhir-profiles',
      'tests',
      'docker-compose.yml',
    ];
    const made = ['node_modules', 'dist'];
    const found = readdirSync(ROOT).filter((name) => !name.startsWith('.') && !made.includes(name));
    expect(found.filter((name) => !agreed.includes(name))).toEqual([]);
    expect(agreed.filter((name) => !found.includes(name))).toEqual([]);
  });
});

describe('the guides of the project', () => {
  it.each(['README.md', 'DEVELOPERS.md'])('%s names only paths that exist', (guide) => {
    const text = readFileSync(path.join(ROOT, guide), 'utf8');
    const named = [...text.matchAll(/`((?:src|tests|migrations|fhir-profiles|\.ci)\/[\w./-]*)`/g)].map(
      ([, name]) => name ?? '',
    );
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((name) => !statSync(path.join(ROOT, name), { throwIfNoEntry: false }))).toEqual([]);
  });
});
