import { describe, expect, test } from 'vitest';
import { r4Definitions } from '../../src/fhir/index.js';
import {
  checkMaxValueSet,
  checkRequiredBinding,
  compileBinding,
} from '../../src/fhir/validation/bindings.js';
import { Walk } from '../../src/fhir/validation/walk.js';

const bindingOf = (id: string): ReturnType<typeof compileBinding> => {
  const set = r4Definitions.valueSets.find(({ url }) => url === `http://hl7.org/fhir/ValueSet/${id}`);
  if (set === undefined) throw new Error(`no value set ${id}`);
  return compileBinding(set);
};

const check = (judge: typeof checkRequiredBinding, id: string, value: unknown): readonly string[] => {
  const walk = new Walk({});
  judge(bindingOf(id), value, walk);
  return walk.issues.map(({ diagnostics }) => diagnostics);
};

describe('a media type (value set mimetypes: RFC 6838, parameters by RFC 2045)', () => {
  const { isMember } = bindingOf('mimetypes');

  test.each([
    'text/plain',
    'application/fhir+json',
    'application/fhir+json; fhirVersion=4.0',
    'application/fhir+xml;charset=UTF-8',
    'multipart/mixed; boundary="a b;c"',
    'application/vnd.openxmlformats-officedocument.wordprocessingml.document',
    'image/svg+xml',
    'x-local/x.form_1',
  ])('%s is one', (code) => {
    expect(isMember(code)).toBe(true);
  });

  // http://hl7.org/fhir/R4/http.html#general: the short names of R4's own formats.
  test.each(['json', 'xml', 'ttl'])('%s, the short name of a format of R4, is taken', (code) => {
    expect(isMember(code)).toBe(true);
  });

  test.each([
    'pdf',
    'text',
    'text/',
    '/plain',
    'text/plain/x',
    'text plain',
    'text/plain; charset',
    'text/pl ain',
    '*/*',
  ])('%s is none', (code) => {
    expect(isMember(code)).toBe(false);
  });
});

describe('a language (value set all-languages: BCP 47, RFC 5646)', () => {
  const { isMember } = bindingOf('all-languages');

  // RFC 5646, Appendix A.
  test.each([
    'de',
    'en-US',
    'en-us',
    'zh-Hans-CN',
    'zh-cmn-Hans-CN',
    'sl-rozaj-biske',
    'de-CH-1901',
    'es-419',
    'hy-Latn-IT-arevela',
    'de-CH-x-phonebk',
    'x-whatever',
    'en-a-myext-b-another',
    'i-enochian',
    'sgn-BE-FR',
    'zh-min-nan',
  ])('%s is one', (code) => {
    expect(isMember(code)).toBe(true);
  });

  // RFC 5646, Appendix A, "Some Invalid Tags"; others: no language subtag of four to eight letters is registered.
  test.each(['de-419-DE', 'a-DE', 'en_US', 'english', 'e', 'en-', 'en US', 'de-DE-'])(
    '%s is none',
    (code) => {
      expect(isMember(code)).toBe(false);
    },
  );
});

describe('a currency (value set currencies: ISO 4217)', () => {
  const { isMember } = bindingOf('currencies');

  // The letter X three times is the standard's own code for a transaction without a currency, XAU is gold.
  test.each(['EUR', 'USD', 'CHF', 'JPY', 'XXX', 'XAU'])('%s is one', (code) => {
    expect(isMember(code)).toBe(true);
  });

  test.each(['eur', 'Euro', 'ABC', '$', 'EU', ''])('"%s" is none', (code) => {
    expect(isMember(code)).toBe(false);
  });
});

describe('a unit of time or length (value sets all-time-units, all-distance-units)', () => {
  const UCUM = 'http://unitsofmeasure.org';

  // The Unified Code for Units of Measure, tables of time and length.
  test.each(['s', 'min', 'h', 'd', 'wk', 'mo', 'a', 'ms'])('%s is one of time', (code) => {
    expect(bindingOf('all-time-units').isMember(code, UCUM)).toBe(true);
    expect(bindingOf('all-distance-units').isMember(code, UCUM)).toBe(false);
  });

  test.each(['m', 'cm', '[in_i]', 'km'])('%s is one of length', (code) => {
    expect(bindingOf('all-distance-units').isMember(code, UCUM)).toBe(true);
    expect(bindingOf('all-time-units').isMember(code, UCUM)).toBe(false);
  });

  test.each(['year', 'Y', 'yr', 'm/s', 'kg'])('%s is neither', (code) => {
    expect(bindingOf('all-time-units').isMember(code, UCUM)).toBe(false);
    expect(bindingOf('all-distance-units').isMember(code, UCUM)).toBe(false);
  });

  test('a unit of another system than UCUM is none', () => {
    expect(bindingOf('all-time-units').isMember('a', 'http://example.org/units')).toBe(false);
  });
});

describe('a required binding (R4 terminologies.html#required)', () => {
  test('refuses a code that is not of the set, with those that are', () => {
    expect(check(checkRequiredBinding, 'administrative-gender', 'm')).toEqual([
      '"m" is not allowed here; it must be one of male, female, other, unknown.',
    ]);
  });

  test('refuses a code in the wrong case', () => {
    // http://hl7.org/fhir/R4/codesystem-administrative-gender.html: case sensitive.
    expect(check(checkRequiredBinding, 'administrative-gender', 'Male')).toHaveLength(1);
  });

  test('takes a concept once one coding is of the set, and refuses it when the system is another', () => {
    const system = 'http://terminology.hl7.org/CodeSystem/condition-clinical';
    const own = { system: 'http://example.org', code: 'a1' };
    const concept = (...coding: readonly object[]): object => ({ coding });
    expect(
      check(checkRequiredBinding, 'condition-clinical', concept(own, { system, code: 'active' })),
    ).toEqual([]);
    expect(check(checkRequiredBinding, 'condition-clinical', concept(own))).toEqual([
      '"a1" of http://example.org is not allowed here; it must be one of active, recurrence, relapse, inactive, remission, resolved.',
    ]);
    expect(check(checkRequiredBinding, 'condition-clinical', concept({ code: 'active' }))).toEqual([
      '"active" without a system is not allowed here; it must be one of active, recurrence, relapse, inactive, remission, resolved.',
    ]);
  });

  test('refuses a concept of text alone', () => {
    expect(check(checkRequiredBinding, 'condition-clinical', { text: 'active' })).toHaveLength(1);
  });

  test('says which standard a code without a list has to follow', () => {
    expect(check(checkRequiredBinding, 'mimetypes', 'pdf')).toEqual([
      '"pdf" is not allowed here; it must be a media type as text/plain (RFC 6838).',
    ]);
  });

  test('names the set when its list is long', () => {
    expect(check(checkRequiredBinding, 'resource-types', 'Observations')).toEqual([
      '"Observations" is not allowed here; it must be a code of http://hl7.org/fhir/ValueSet/resource-types.',
    ]);
  });
});

describe('the widest value set of a looser binding (R4 extension-elementdefinition-maxvalueset.html)', () => {
  test('refuses a code that is not of it', () => {
    const coding = [{ system: 'urn:ietf:bcp:47', code: 'english' }];
    expect(check(checkMaxValueSet, 'all-languages', 'en_US')).toHaveLength(1);
    expect(check(checkMaxValueSet, 'all-languages', { coding })).toHaveLength(1);
    expect(
      check(checkMaxValueSet, 'all-time-units', {
        value: 4,
        system: 'http://unitsofmeasure.org',
        code: 'kg',
      }),
    ).toEqual([
      '"kg" of http://unitsofmeasure.org is not allowed here; it must be a code of http://hl7.org/fhir/ValueSet/all-time-units.',
    ]);
  });

  test('takes a text alone, and a quantity whose unit has no code', () => {
    expect(check(checkMaxValueSet, 'all-languages', { text: 'Plattdeutsch' })).toEqual([]);
    expect(check(checkMaxValueSet, 'all-time-units', { value: 4, unit: 'years' })).toEqual([]);
  });
});
