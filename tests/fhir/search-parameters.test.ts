import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { RESOURCE_TYPES, searchParameters } from '../../src/fhir/search-parameters.js';
import type { ResourceType, SearchParameter } from '../../src/fhir/search-parameters.js';

/** HL7 FHIR R4 4.0.1, package hl7.fhir.r4.core: the published SearchParameters and StructureDefinitions. */
const PUBLISHED = new URL('../../../shared/fhir-r4/', import.meta.url);
const published = existsSync(PUBLISHED);

interface Official {
  readonly url: string;
  readonly code: string;
  readonly type: string;
  readonly base: readonly string[];
  readonly expression?: string;
  readonly target?: readonly string[];
}

function readOfficial(): ReadonlyMap<string, Official> {
  const folder = new URL('search-parameters/', PUBLISHED);
  const all = readdirSync(folder).map(
    (file) => JSON.parse(readFileSync(new URL(file, folder), 'utf8')) as Official,
  );
  return new Map(all.map((official) => [official.url, official]));
}

/** The alternatives of a union that start at this type, as the standard writes them. */
const partOf = (type: string, expression: string | undefined): string =>
  (expression ?? '')
    .split('|')
    .map((part) => part.trim())
    .filter((part) => part.replace('(', '').startsWith(`${type}.`))
    .join(' | ');

const rows = RESOURCE_TYPES.flatMap((type) =>
  searchParameters[type].map((row): [string, ResourceType, SearchParameter] => [
    `${type} ${row.code}`,
    type,
    row,
  ]),
);
const standardRows = rows.filter(([, , row]) => row.definition.startsWith('http://hl7.org/'));

describe('the table of search parameters', () => {
  test.each(RESOURCE_TYPES)('names each parameter of %s once', (type) => {
    const codes = searchParameters[type].map((row) => row.code);
    expect(new Set(codes).size).toBe(codes.length);
  });

  test('marks our own parameters with a dash (R4 search: custom parameters) and no others', () => {
    for (const [, , row] of rows) {
      expect(row.code.startsWith('-')).toBe(!row.definition.startsWith('http://hl7.org/'));
    }
  });

  test('publishes each of our own parameters in fhir-profiles with the same expression', () => {
    const own = rows.filter(([, , row]) => row.code.startsWith('-'));
    expect(own).toHaveLength(2);
    for (const [, type, row] of own) {
      const name = row.definition.replace('/', '-');
      const file = new URL(`../../fhir-profiles/${name}.json`, import.meta.url);
      expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({
        resourceType: 'SearchParameter',
        url: `https://limbledger.example/fhir/${row.definition}`,
        code: row.code,
        base: [type],
        type: row.kind,
        expression: row.expression,
      });
    }
  });
});

describe.skipIf(!published)(
  'against the published R4 definitions (skipped where they are not at hand)',
  () => {
    const official = published ? readOfficial() : new Map<string, Official>();

    test.each(standardRows)('%s has the published code, kind and expression', (_name, type, row) => {
      const found = official.get(row.definition);
      expect(found).toMatchObject({ code: row.code, type: row.kind });
      const root = found?.base.includes('Resource') === true ? 'Resource' : type;
      expect(row.expression).toBe(partOf(root, found?.expression));
    });

    test.each(standardRows.filter(([, , row]) => row.kind === 'reference' && row.targets !== undefined))(
      '%s points only at published targets',
      (_name, _type, row) => {
        const targets = row.kind === 'reference' ? (row.targets ?? []) : [];
        expect(official.get(row.definition)?.target).toEqual(expect.arrayContaining([...targets]));
      },
    );

    test.each(rows)('%s reads elements that exist, of the datatype it is read as', (_name, type, row) => {
      for (const part of row.expression.split(' | ')) {
        const datatypes = datatypesOf(part.replace('Resource.', `${type}.`));
        expect(datatypes.length, part).toBeGreaterThan(0);
        const read = READ_AS[row.kind === 'token' || row.kind === 'string' ? row.datatype : row.kind];
        for (const datatype of datatypes) expect(read, part).toContain(datatype);
      }
    });
  },
);

const READ_AS: Readonly<Record<string, readonly string[]>> = {
  code: ['code', 'http://hl7.org/fhirpath/System.String'],
  boolean: ['boolean'],
  Coding: ['Coding'],
  CodeableConcept: ['CodeableConcept'],
  Identifier: ['Identifier'],
  ContactPoint: ['ContactPoint'],
  string: ['string'],
  HumanName: ['HumanName'],
  Address: ['Address'],
  reference: ['Reference'],
  date: ['date', 'dateTime', 'instant', 'Period', 'Timing'],
};

/** The datatypes at the end of a path, by the snapshots of the StructureDefinitions. */
function datatypesOf(expression: string): readonly string[] {
  const path = expression.replace(/\.where\((?:[^()]|\(\))*\)/g, '');
  const cast = /^\(?(.+?)(?: as |\.ofType\()(\w+)\)$/.exec(path);
  const [root = '', ...names] = (cast?.[1] ?? path).split('.');
  let types: readonly string[] = [root];
  let prefix = root;
  for (const name of names) {
    const element =
      elementsOf(types[0] ?? '').get(`${prefix}.${name}`) ??
      elementsOf(types[0] ?? '').get(`${prefix}.${name}[x]`);
    if (element === undefined) return [];
    const isInline = element.every((type) => type === 'BackboneElement');
    prefix = isInline ? `${prefix}.${name}` : (element[0] ?? '');
    if (!isInline) types = element;
  }
  return cast === null ? types : types.filter((type) => type === cast[2]);
}

function elementsOf(type: string): ReadonlyMap<string, readonly string[]> {
  const file = new URL(`definitions/StructureDefinition-${type}.json`, PUBLISHED);
  const { snapshot } = JSON.parse(readFileSync(file, 'utf8')) as {
    snapshot: { element: { path: string; type?: { code: string }[] }[] };
  };
  return new Map(
    snapshot.element.map(({ path, type: types }) => [path, (types ?? []).map(({ code }) => code)]),
  );
}
