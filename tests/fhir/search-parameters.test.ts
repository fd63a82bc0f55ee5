import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { r4SearchParameters } from '../../src/fhir/definitions/index.js';
import { RESOURCE_TYPES } from '../../src/fhir/resource-types.js';
import type { ResourceType } from '../../src/fhir/resource-types.js';
import { findSearchParameter, searchParameters } from '../../src/fhir/search-parameters.js';
import type { SearchParameter } from '../../src/fhir/search-parameters.js';
import { makeSearchParameters, readParameters } from '../config/make-search-parameters.js';
import { publishedFolder } from './published.js';

const rows = RESOURCE_TYPES.flatMap((type) =>
  searchParameters[type].map((row): [string, ResourceType, SearchParameter] => [
    `${type} ${row.code}`,
    type,
    row,
  ]),
);

describe('the table of search parameters', () => {
  test.skipIf(publishedFolder === undefined)(
    'is the one that the published parameters make (HL7 FHIR R4 4.0.1; skipped where these are not at hand)',
    () => {
      expect(r4SearchParameters).toEqual(makeSearchParameters(readParameters(publishedFolder ?? '')));
    },
  );

  test.each(RESOURCE_TYPES)('names each parameter of %s once', (type) => {
    const codes = searchParameters[type].map((row) => row.code);
    expect(new Set(codes).size).toBe(codes.length);
  });

  test('has every parameter that R4 lists for an Observation (R4 observation.html, search parameters)', () => {
    const codes = searchParameters.Observation.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(OF_AN_OBSERVATION));
    expect(OF_AN_OBSERVATION).toHaveLength(38);
    expect(codes.filter((code) => /^[a-z]/.test(code))).toHaveLength(38);
  });

  test('marks our own parameters with a dash (R4 search: custom parameters) and no others', () => {
    for (const [, , row] of rows) {
      expect(row.code.startsWith('-')).toBe(!row.definition.startsWith('http://hl7.org/'));
    }
  });

  test.each(['-body-site', '-laterality', '-code-body-site-laterality'])(
    'publishes our %s in fhir-profiles with the same expression',
    (code) => {
      const row = findSearchParameter('Observation', code);
      const name = row?.definition.replace('/', '-') ?? '';
      const file = new URL(`../../fhir-profiles/${name}.json`, import.meta.url);
      expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({
        resourceType: 'SearchParameter',
        url: `https://limbledger.example/fhir/${row?.definition ?? ''}`,
        code,
        base: ['Observation'],
        type: row?.kind,
        expression: row?.expression,
      });
    },
  );
});

/** http://hl7.org/fhir/R4/observation.html#search */
const OF_AN_OBSERVATION = [
  ...['based-on', 'category', 'code', 'code-value-concept', 'code-value-date', 'code-value-quantity'],
  ...['code-value-string', 'combo-code', 'combo-code-value-concept', 'combo-code-value-quantity'],
  ...['combo-data-absent-reason', 'combo-value-concept', 'combo-value-quantity', 'component-code'],
  ...['component-code-value-concept', 'component-code-value-quantity', 'component-data-absent-reason'],
  ...['component-value-concept', 'component-value-quantity', 'data-absent-reason', 'date', 'derived-from'],
  ...['device', 'encounter', 'focus', 'has-member', 'identifier', 'method', 'part-of', 'patient'],
  ...['performer', 'specimen', 'status', 'subject', 'value-concept', 'value-date', 'value-quantity'],
  'value-string',
];

describe('a parameter', () => {
  const targetsOf = (type: ResourceType, code: string): unknown => {
    const row = findSearchParameter(type, code);
    return row?.kind === 'reference' ? row.targets : row;
  };

  test('of references leads where its elements and its expression allow, and no further', () => {
    expect(targetsOf('Observation', 'patient')).toEqual(['Patient']);
    // The published parameter adds EpisodeOfCare, which Observation.encounter cannot point at.
    expect(targetsOf('Observation', 'encounter')).toEqual(['Encounter']);
    expect(targetsOf('Observation', 'subject')).toEqual(['Group', 'Device', 'Patient', 'Location']);
    expect(targetsOf('Provenance', 'target')).toBeUndefined();
  });

  test('that looks at the Observation and its components joins the two that look at either', () => {
    const joins = (code: string): unknown => {
      const row = findSearchParameter('Observation', code);
      return row !== undefined && 'joins' in row ? row.joins : undefined;
    };
    expect(joins('combo-code')).toEqual(['code', 'component-code']);
    expect(joins('combo-value-concept')).toEqual(['component-value-concept', 'value-concept']);
    expect(joins('combo-value-quantity')).toEqual(['component-value-quantity', 'value-quantity']);
    expect(joins('combo-data-absent-reason')).toEqual(['component-data-absent-reason', 'data-absent-reason']);
    expect(rows.filter(([, , row]) => 'joins' in row)).toHaveLength(4);
  });

  test('that is composite knows the elements its parts stand in together', () => {
    const places = (type: ResourceType, code: string): unknown => {
      const row = findSearchParameter(type, code);
      return row?.kind === 'composite' ? row.places : undefined;
    };
    expect(places('Observation', 'code-value-quantity')).toEqual([
      { kind: 'resource', parts: ['code', 'value-quantity'] },
    ]);
    expect(places('Observation', 'combo-code-value-quantity')).toMatchObject([
      { kind: 'resource', parts: ['code', 'value-quantity'] },
      { kind: 'quantity', parts: ['component-code', 'component-value-quantity'] },
    ]);
    expect(places('Observation', 'combo-code-value-concept')).toMatchObject([
      { kind: 'resource', parts: ['code', 'value-concept'] },
      { kind: 'pair', parameter: 'component-code-value-concept' },
    ]);
    expect(places('Group', 'characteristic-value')).toMatchObject([
      { kind: 'pair', parts: ['characteristic', 'value'], parameter: 'characteristic-value' },
    ]);
    expect(places('Observation', '-code-body-site-laterality')).toEqual([
      { kind: 'resource', parts: ['code', '-body-site', '-laterality'] },
    ]);
  });
});
