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
        'http://hl7.org/fhir/ValueSet/ucum-bodylength',
        'http://hl7.org/fhir/ValueSet/ucum-bodytemp',
        'http://hl7.org/fhir/ValueSet/ucum-bodyweight',
        'http://hl7.org/fhir/ValueSet/ucum-vitals-common',
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

  test('demand the profile of each vital sign by its code', () => {
    // http://hl7.org/fhir/R4/observation-vitalsigns.html, the table's column of required LOINC codes.
    const demanded = r4Definitions.demandedProfiles.map(({ type, system, code, profile }) => {
      expect([type, system]).toEqual(['Observation', 'http://loinc.org']);
      return `${code} ${profile.slice(profile.lastIndexOf('/') + 1)}`;
    });
    expect(demanded).toEqual([
      '85353-1 vitalspanel',
      '9279-1 resprate',
      '8867-4 heartrate',
      '2708-6 oxygensat',
      '8310-5 bodytemp',
      '8302-2 bodyheight',
      '9843-4 headcircum',
      '29463-7 bodyweight',
      '39156-5 bmi',
      '85354-9 bp',
    ]);
  });

  test('hold each demanded profile with what it is derived from and what it binds', () => {
    const types = r4Definitions.types.map(({ name }) => `http://hl7.org/fhir/StructureDefinition/${name}`);
    const profiles = r4Definitions.profiles.map(({ url }) => url);
    const sets = r4Definitions.valueSets.map(({ url }) => url);
    for (const { profile } of r4Definitions.demandedProfiles) expect(profiles).toContain(profile);
    for (const { baseDefinition, differential } of r4Definitions.profiles) {
      expect([...types, ...profiles]).toContain(baseDefinition);
      const bound = differential?.element.flatMap(({ binding }) => binding?.valueSet ?? []) ?? [];
      expect(bound.filter((url) => !sets.includes(url))).toEqual([]);
    }
  });

  test('take body temperature in degrees Celsius or Fahrenheit, in the letters of UCUM', () => {
    // http://hl7.org/fhir/R4/valueset-ucum-bodytemp.html
    const set = r4Definitions.valueSets.find(({ url }) => url.endsWith('/ucum-bodytemp'));
    expect(set?.include).toEqual([{ system: 'http://unitsofmeasure.org', codes: ['Cel', '[degF]'] }]);
  });

  test('take for languages, media types, currencies and units of time whatever their standard takes', () => {
    // http://hl7.org/fhir/R4/valueset-all-languages.html, -mimetypes, -currencies, -all-time-units, -all-distance-units
    const includes = ['all-languages', 'mimetypes', 'currencies', 'all-time-units', 'all-distance-units'].map(
      (id) => r4Definitions.valueSets.find(({ url }) => url.endsWith(`/ValueSet/${id}`))?.include,
    );
    expect(includes).toEqual([
      [{ system: 'urn:ietf:bcp:47' }],
      [{ system: 'urn:ietf:bcp:13' }],
      [{ system: 'urn:iso:std:iso:4217' }],
      [{ system: 'http://unitsofmeasure.org', canonical: 'a' }],
      [{ system: 'http://unitsofmeasure.org', canonical: 'm' }],
    ]);
  });

  test('hold an invariant where the type adds it, and not again where it is inherited', () => {
    const places = r4Definitions.types.flatMap(({ name, constraints = [] }) =>
      constraints.map(({ path, key }) => `${key} ${[name, path].filter((part) => part !== '').join('.')}`),
    );
    expect(new Set(places).size).toBe(places.length);
    // http://hl7.org/fhir/R4/observation.html#invs, element.html, extensibility.html, domainresource.html, datatypes.html
    const inherited = /^(?:ele-1|ext-1|dom-\d|qty-3|sqty-1|obs-\d) /;
    expect(places.filter((place) => inherited.test(place)).sort()).toEqual([
      'dom-2 DomainResource',
      'dom-3 DomainResource',
      'dom-4 DomainResource',
      'dom-5 DomainResource',
      'dom-6 DomainResource',
      'ele-1 Element',
      'ext-1 Extension',
      'obs-3 Observation.referenceRange',
      'obs-6 Observation',
      'obs-7 Observation',
      'qty-3 Quantity',
      'sqty-1 SimpleQuantity',
    ]);
  });

  test('tell advice from rules: narrative (dom-6), and a clinical status for a problem (con-3)', () => {
    // http://hl7.org/fhir/R4/best-practices.html
    const advice = r4Definitions.types.flatMap(({ constraints = [] }) =>
      constraints.filter(({ bestPractice }) => bestPractice === true),
    );
    expect(advice.map(({ key, severity }) => `${key} ${severity}`)).toEqual([
      'con-3 warning',
      'dom-6 warning',
    ]);
  });

  test('mark the elements of an Observation that can change what it means', () => {
    // http://hl7.org/fhir/R4/observation.html: the elements with the flag "?!"
    const observation = r4Definitions.types.find(({ name }) => name === 'Observation');
    const modifiers = observation?.elements.filter(({ modifier }) => modifier === true);
    expect(modifiers?.map(({ path }) => path)).toEqual(['status']);
  });
});
