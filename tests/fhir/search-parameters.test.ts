import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { RESOURCE_TYPES, searchParameters } from '../../src/fhir/search-parameters.js';
import type { ResourceType, SearchParameter } from '../../src/fhir/search-parameters.js';
import { published, publishedFolder } from './published.js';

interface Official {
  readonly url: string;
  readonly code: string;
  readonly type: string;
  readonly base: readonly string[];
  readonly expression?: string;
  readonly target?: readonly string[];
}

function readOfficial(): ReadonlyMap<string, Official> {
  const files = readdirSync(join(publishedFolder ?? '', 'search-parameters'));
  const all = files.map((file) => JSON.parse(published(`search-parameters/${file}`)) as Official);
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

describe('each row, against the definitions of HL7 FHIR R4 4.0.1', () => {
  const absent = [publishedFolder === undefined, 'the published R4 definitions are not at hand'] as const;

  test('has the published code, kind and expression', ({ skip }) => {
    skip(...absent);
    const official = readOfficial();
    for (const [name, type, row] of standardRows) {
      const found = official.get(row.definition);
      expect(found, name).toMatchObject({ code: row.code, type: row.kind });
      const root = found?.base.includes('Resource') === true ? 'Resource' : type;
      expect(row.expression, name).toBe(partOf(root, found?.expression));
    }
  });

  test('points only at published targets', ({ skip }) => {
    skip(...absent);
    const official = readOfficial();
    for (const [name, , row] of standardRows) {
      const targets = row.kind === 'reference' ? (row.targets ?? []) : [];
      const allowed = official.get(row.definition)?.target ?? [];
      expect(
        targets.filter((target) => !allowed.includes(target)),
        name,
      ).toEqual([]);
    }
  });

  test('reads elements that exist, of the datatype they are read as', ({ skip }) => {
    skip(...absent);
    for (const [name, type, row] of rows) {
      for (const part of row.expression.split(' | ')) {
        const datatypes = datatypesOf(part.replace('Resource.', `${type}.`));
        expect(datatypes.length, name).toBeGreaterThan(0);
        const read = READ_AS[row.kind === 'token' || row.kind === 'string' ? row.datatype : row.kind];
        for (const datatype of datatypes) expect(read, name).toContain(datatype);
      }
    }
  });
});

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
  const { snapshot } = JSON.parse(published(`definitions/StructureDefinition-${type}.json`)) as {
    snapshot: { element: { path: string; type?: { code: string }[] }[] };
  };
  return new Map(
    snapshot.element.map(({ path, type: types }) => [path, (types ?? []).map(({ code }) => code)]),
  );
}
