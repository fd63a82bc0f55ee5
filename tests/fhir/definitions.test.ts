import { describe, expect, test } from 'vitest';
import { r4Definitions } from '../../src/fhir/index.js';
import { makeDefinitions, readLibrary } from '../config/make-definitions.js';
import { publishedFolder } from './published.js';

describe('the tables of definitions', () => {
  test.skipIf(publishedFolder === undefined)(
    'are those that the published definitions make (HL7 FHIR R4 4.0.1; skipped where these are not at hand)',
    () => {
      const library = readLibrary(publishedFolder ?? '');
      const { types, valueSets, resourceTypes } = makeDefinitions(library);
      expect(r4Definitions.types).toEqual(types);
      expect(r4Definitions.resourceTypes).toEqual(resourceTypes);
      const isPublished = ({ url }: { readonly url: string }): boolean => library.has(`ValueSet ${url}`);
      expect(r4Definitions.valueSets.filter(isPublished)).toEqual(valueSets);
      // Those of the definitions' other download, valuesets.json, are few; their contents are below.
      expect(r4Definitions.valueSets.filter((set) => !isPublished(set)).map(({ url }) => url)).toEqual([
        'http://hl7.org/fhir/ValueSet/all-distance-units',
        'http://hl7.org/fhir/ValueSet/all-languages',
        'http://hl7.org/fhir/ValueSet/all-time-units',
      ]);
    },
  );

  test('name each resource type of R4 once, and not the two that are abstract', () => {
    // http://hl7.org/fhir/R4/codesystem-resource-types.html: 148 codes, Resource and DomainResource among them.
    expect(new Set(r4Definitions.resourceTypes).size).toBe(146);
    expect(r4Definitions.resourceTypes).toHaveLength(146);
    expect(r4Definitions.resourceTypes).not.toContain('DomainResource');
  });

  test('hold the eight statuses of an observation', () => {
    // http://hl7.org/fhir/R4/valueset-observation-status.html
    const set = r4Definitions.valueSets.find(({ url }) => url.endsWith('/observation-status'));
    expect(set?.include).toEqual([
      {
        system: 'http://hl7.org/fhir/observation-status',
        codes: [
          'registered',
          'preliminary',
          'final',
          'amended',
          'corrected',
          'cancelled',
          'entered-in-error',
          'unknown',
        ],
      },
    ]);
  });

  test('name no type, and no shared element, that they do not hold', () => {
    const names = new Set(r4Definitions.types.map(({ name }) => name));
    for (const type of r4Definitions.types) {
      const paths = type.elements.map(({ path }) => path);
      for (const row of type.elements) {
        expect(row.types.filter((name) => !names.has(name))).toEqual([]);
        if (row.content !== undefined) expect(paths).toContain(row.content);
      }
    }
  });
});
