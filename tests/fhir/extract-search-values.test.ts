import { describe, expect, test } from 'vitest';
import { decimal } from '../../src/fhir/decimal.js';
import { compileExtractor } from '../../src/fhir/extract-search-values.js';
import type { SearchValues } from '../../src/fhir/search-values.js';
import { published, publishedFolder } from './published.js';

const BASE = 'https://records.example/fhir';
const extract = compileExtractor({ siteZone: 'America/New_York', baseUrl: () => BASE });

const of = (resource: object, kind: keyof SearchValues, parameter: string): object[] =>
  extract(resource)[kind].flatMap(({ parameter: found, ...value }) => (found === parameter ? [value] : []));

const observation = (members: object): object => ({ resourceType: 'Observation', ...members });

describe('token values (R4 search, token)', () => {
  test('of a concept are its codings; the displays and the words beside them are for :text', () => {
    const code = {
      coding: [
        { system: 'http://loinc.org', code: '83174-3', display: 'Grip strength Hand - right Dynamometer' },
        { code: 'grip' },
      ],
      text: 'right grip',
    };
    expect(of(observation({ code }), 'tokens', 'code')).toEqual([
      { system: 'http://loinc.org', code: '83174-3' },
      { code: 'grip' },
    ]);
    expect(of(observation({ code }), 'texts', 'code')).toEqual([
      { text: 'right grip' },
      { text: 'Grip strength Hand - right Dynamometer' },
    ]);
  });

  test('of a concept in words alone say that it is there, by a code that no query can name', () => {
    expect(of(observation({ code: { text: 'knee' } }), 'tokens', 'code')).toEqual([{ code: '' }]);
  });

  test('of a code and a boolean carry the system that their binding fixes', () => {
    expect(of(observation({ status: 'final' }), 'tokens', 'status')).toEqual([
      { system: 'http://hl7.org/fhir/observation-status', code: 'final' },
    ]);
    expect(of({ resourceType: 'Patient', active: false }, 'tokens', 'active')).toEqual([
      { system: 'http://terminology.hl7.org/CodeSystem/special-values', code: 'false' },
    ]);
  });

  test('of an identifier are its system and value, of a contact its value alone', () => {
    const patient = {
      resourceType: 'Patient',
      identifier: [{ system: 'urn:mrn', value: 'A1' }, { value: 'B2' }],
      telecom: [
        { system: 'phone', value: '555 0100' },
        { system: 'email', value: 'zz@example.org' },
      ],
    };
    expect(of(patient, 'tokens', 'identifier')).toEqual([{ system: 'urn:mrn', code: 'A1' }, { code: 'B2' }]);
    expect(of(patient, 'tokens', 'telecom')).toEqual([{ code: '555 0100' }, { code: 'zz@example.org' }]);
    expect(of(patient, 'tokens', 'email')).toEqual([{ code: 'zz@example.org' }]);
  });

  test('of a component are kept under its own parameters; combo-code joins them in the search', () => {
    const coded = (code: string): object => ({ coding: [{ system: 'urn:s', code }] });
    const resource = observation({ code: coded('look'), component: [{ code: coded('swelling') }] });
    expect(of(resource, 'tokens', 'code')).toEqual([{ system: 'urn:s', code: 'look' }]);
    expect(of(resource, 'tokens', 'component-code')).toEqual([{ system: 'urn:s', code: 'swelling' }]);
    expect(of(resource, 'tokens', 'combo-code')).toEqual([]);
  });

  test('of a death are true or false, also where nothing is said', () => {
    const deceased = (members: object): object[] =>
      of({ resourceType: 'Patient', ...members }, 'tokens', 'deceased');
    expect(deceased({ deceasedDateTime: '2026-03-05' })).toMatchObject([{ code: 'true' }]);
    expect(deceased({})).toMatchObject([{ code: 'false' }]);
  });

  test('of an address are its use, with the system of the binding', () => {
    const patient = { resourceType: 'Patient', address: [{ use: 'home', city: 'Zzford' }] };
    expect(of(patient, 'tokens', 'address-use')).toEqual([
      { system: 'http://hl7.org/fhir/address-use', code: 'home' },
    ]);
  });

  test('find the side by the laterality extension and no other', () => {
    const side = (url: string, code: string): object => ({
      url,
      valueCodeableConcept: { coding: [{ system: 'http://snomed.info/sct', code }] },
    });
    const bodySite = {
      coding: [{ system: 'http://snomed.info/sct', code: '6757004' }],
      extension: [
        side('http://hl7.org/fhir/StructureDefinition/observation-structureLaterality', '24028007'),
        side('urn:other', '7771000'),
      ],
    };
    expect(of(observation({ bodySite }), 'tokens', '-laterality')).toEqual([
      { system: 'http://snomed.info/sct', code: '24028007' },
    ]);
    expect(of(observation({ bodySite }), 'tokens', '-body-site')).toHaveLength(1);
  });
});

describe('reference values (R4 search, reference)', () => {
  const subject = (reference: object): object[] =>
    of(observation({ subject: reference }), 'references', 'subject');

  test('on this base are the same, relative or absolute, with or without a version', () => {
    for (const reference of ['Patient/7', `${BASE}/Patient/7`, 'Patient/7/_history/2']) {
      expect(subject({ reference })).toEqual([{ type: 'Patient', id: '7' }]);
    }
  });

  test('elsewhere keep their URL, and a URN its text', () => {
    expect(subject({ reference: 'https://else.example/fhir/Patient/7' })).toEqual([
      { type: 'Patient', url: 'https://else.example/fhir/Patient/7' },
    ]);
    expect(subject({ reference: 'urn:uuid:53fefa32-fcbb-4ff8-8a92-55ee120877b7', type: 'Patient' })).toEqual([
      { type: 'Patient', url: 'urn:uuid:53fefa32-fcbb-4ff8-8a92-55ee120877b7' },
    ]);
  });

  test('by identifier alone keep the identifier', () => {
    expect(subject({ type: 'Patient', identifier: { system: 'urn:mrn', value: 'A1' } })).toEqual([
      { type: 'Patient', identifier: { system: 'urn:mrn', value: 'A1' } },
    ]);
  });

  test('to a contained resource, or in words alone, are none', () => {
    expect(subject({ reference: '#p' })).toEqual([]);
    expect(subject({ display: 'someone' })).toEqual([]);
  });

  test('are under patient only when they point at a Patient', () => {
    const group = observation({ subject: { reference: 'Group/1' } });
    expect(of(group, 'references', 'patient')).toEqual([]);
    expect(of(group, 'references', 'subject')).toEqual([{ type: 'Group', id: '1' }]);
  });
});

describe('date values (R4 search, date: the range that the precision fixes)', () => {
  const range = (members: object): object[] => of(observation(members), 'dates', 'date');
  const at = (text: string): number => Date.parse(text);

  test('of a second are that second, of a day without a zone the day at the site', () => {
    expect(range({ effectiveDateTime: '2026-03-05T08:10:00-05:00' })).toEqual([
      { low: at('2026-03-05T13:10:00Z'), high: at('2026-03-05T13:10:01Z') },
    ]);
    expect(range({ effectiveDateTime: '2026-03-05' })).toEqual([
      { low: at('2026-03-05T05:00:00Z'), high: at('2026-03-06T05:00:00Z') },
    ]);
  });

  test('of a period reach from its start to its end, open where a bound is missing', () => {
    expect(range({ effectivePeriod: { start: '2026-03-05T00:00:00Z' } })).toEqual([
      { low: at('2026-03-05T00:00:00Z'), high: null },
    ]);
    expect(range({ effectivePeriod: { end: '2026-03' } })).toEqual([
      { low: null, high: at('2026-04-01T04:00:00Z') },
    ]);
  });

  test('of a timing are its outer limits', () => {
    const event = ['2026-03-09T10:00:00Z', '2026-03-05T10:00:00Z'];
    expect(range({ effectiveTiming: { event } })).toEqual([
      { low: at('2026-03-05T10:00:00Z'), high: at('2026-03-09T10:00:01Z') },
    ]);
    expect(
      range({ effectiveTiming: { repeat: { boundsPeriod: { start: '2026-03-05T10:00:00Z' } } } }),
    ).toEqual([{ low: at('2026-03-05T10:00:00Z'), high: null }]);
  });

  test('of a birth date known to the year are the whole year', () => {
    expect(of({ resourceType: 'Patient', birthDate: '1956' }, 'dates', 'birthdate')).toEqual([
      { low: at('1956-01-01T05:00:00Z'), high: at('1957-01-01T05:00:00Z') },
    ]);
  });
});

describe('quantity values (R4 search, quantity)', () => {
  const value = (members: object): object[] => of(observation(members), 'quantities', 'value-quantity');
  const unit = { unit: 'kg', system: 'http://unitsofmeasure.org', code: 'kg' };

  test('keep number, comparator and unit', () => {
    expect(value({ valueQuantity: { value: 22.5, comparator: '<', ...unit } })).toEqual([
      { value: 22.5, comparator: '<', ...unit },
    ]);
    expect(value({ valueQuantity: { value: decimal('30.50'), unit: 'cm' } })).toEqual([
      { value: 30.5, unit: 'cm' },
    ]);
    expect(value({ valueQuantity: { unit: 'kg' } })).toEqual([]);
  });

  test('of sampled data are the bounds of its values (R4 Observation, value-quantity)', () => {
    const data = { period: 10, dimensions: 1, lowerLimit: -10, origin: { value: 2, ...unit }, factor: 0.5 };
    expect(value({ valueSampledData: { ...data, data: '4 E -2 L 8' } })).toEqual([
      { value: -3, high: 6, ...unit },
    ]);
    expect(value({ valueSampledData: { ...data, data: 'E U' } })).toEqual([]);
  });

  test('of a range are its two ends, or a comparator where one is open', () => {
    const onset = (onsetRange: object): object[] =>
      of({ resourceType: 'Condition', onsetRange }, 'quantities', 'onset-age');
    const years = { unit: 'a' };
    expect(onset({ low: { value: 20, ...years }, high: { value: 30, ...years } })).toEqual([
      { value: 20, high: 30, ...years },
    ]);
    expect(onset({ low: { value: 20, ...years } })).toEqual([{ value: 20, comparator: '>=', ...years }]);
    expect(onset({ high: { value: 30, ...years } })).toEqual([{ value: 30, comparator: '<=', ...years }]);
  });

  test('of a component keep the codes beside them', () => {
    const coded = (code: string): object => ({ code: { coding: [{ system: 'urn:s', code }], text: code } });
    const component = [
      { ...coded('pain'), valueQuantity: { value: 7 } },
      { code: { text: 'in words' }, valueQuantity: { value: 8 } },
      { ...coded('end-feel'), valueCodeableConcept: { coding: [{ code: 'firm' }, { code: 'hard' }] } },
    ];
    expect(of(observation({ component }), 'quantities', 'component-value-quantity')).toEqual([
      { value: 7, codes: [{ system: 'urn:s', code: 'pain' }] },
      { value: 8 },
    ]);
    expect(of(observation({ component }), 'pairs', 'component-code-value-concept')).toEqual([
      { first: { system: 'urn:s', code: 'end-feel' }, second: { code: 'firm' } },
      { first: { system: 'urn:s', code: 'end-feel' }, second: { code: 'hard' } },
    ]);
  });
});

describe('uri values (R4 search, uri)', () => {
  test('of a canonical URL with a version are that and the URL alone', () => {
    const profile = [
      'https://x.example/StructureDefinition/a|1.0',
      'https://x.example/StructureDefinition/b',
    ];
    expect(of(observation({ meta: { profile } }), 'uris', '_profile')).toEqual([
      { uri: 'https://x.example/StructureDefinition/a|1.0' },
      { uri: 'https://x.example/StructureDefinition/a' },
      { uri: 'https://x.example/StructureDefinition/b' },
    ]);
  });

  test('that are searched as references keep the URL', () => {
    const report = { resourceType: 'MeasureReport', measure: 'https://x.example/Measure/m|2' };
    expect(of(report, 'references', 'measure')).toEqual([
      { url: 'https://x.example/Measure/m|2' },
      { type: 'Measure', url: 'https://x.example/Measure/m' },
    ]);
  });
});

describe('string values (R4 search, string: any part of a name or address)', () => {
  test('of a name are all its parts', () => {
    const name = [{ family: 'Zzdunmoor', given: ['Ana', 'B'], prefix: ['Dr'] }, { text: 'Ana Z' }];
    const strings = of({ resourceType: 'Patient', name }, 'strings', 'name');
    expect(strings.flatMap((value) => Object.values<unknown>(value as Record<string, unknown>))).toEqual([
      'Zzdunmoor',
      'Ana',
      'B',
      'Dr',
      'Ana Z',
    ]);
    expect(of({ resourceType: 'Patient', name }, 'strings', 'given')).toEqual([
      { text: 'Ana' },
      { text: 'B' },
    ]);
  });
});

test('words that sound alike are found under phonetic', () => {
  const name = [{ family: 'Tymczak', given: ['Róbert'] }];
  expect(of({ resourceType: 'Patient', name }, 'strings', 'phonetic')).toEqual([
    { text: 'T522' },
    { text: 'R163' },
  ]);
});

describe('a resource', () => {
  test('keeps id and lastUpdated out of its search values: the store holds them as columns', () => {
    const meta = { lastUpdated: '2026-03-05T08:10:00Z', tag: [{ system: 'urn:t', code: 'HTEST' }] };
    const values = extract(observation({ id: 'a', meta }));
    expect(values.dates).toEqual([]);
    expect(values.tokens).toEqual([{ parameter: '_tag', system: 'urn:t', code: 'HTEST' }]);
  });

  test('of wrong shapes gives no values and no fault', () => {
    const wrong = observation({
      code: 'x',
      subject: [1, null],
      status: 5,
      effectiveDateTime: '2026-02-30',
      category: { coding: { code: 'exam' } },
      identifier: [{ value: decimal('30.50') }],
    });
    expect(Object.values(extract(wrong)).flat()).toEqual([]);
    expect(Object.values(extract({ resourceType: 'Basic' })).flat()).toEqual([]);
  });

  test('of the published examples (R4 Observation f001) is found by its code, subject and period', ({
    skip,
  }) => {
    skip(publishedFolder === undefined, 'the published R4 examples are not at hand');
    const example = JSON.parse(published('examples/Observation-f001.json')) as object;
    expect(of(example, 'tokens', 'code')).toMatchObject([{ system: 'http://loinc.org', code: '15074-8' }]);
    expect(of(example, 'references', 'patient')).toEqual([{ type: 'Patient', id: 'f001' }]);
    expect(of(example, 'dates', 'date')).toHaveLength(1);
  });
});
