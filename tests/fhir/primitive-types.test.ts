import fc from 'fast-check';
import { LosslessNumber } from 'lossless-json';
import { describe, expect, test } from 'vitest';
import { compileValidator, hasErrors, r4Definitions } from '../../src/fhir/index.js';
import { published, publishedFolder } from './published.js';

const validate = compileValidator(r4Definitions);

/** Whether a value is one of the primitive type, seen as the value of an extension. */
function isValid(type: string, value: unknown): boolean {
  const name = `value${type.charAt(0).toUpperCase()}${type.slice(1)}`;
  const extension = [{ url: 'http://example.org/x', [name]: value }];
  return !hasErrors(validate({ resourceType: 'Patient', extension }));
}

const NUMBERS: ReadonlySet<string> = new Set(['decimal', 'integer', 'positiveInt', 'unsignedInt']);

// R4 datatypes, "Primitive Types".
describe('values of primitive types', () => {
  test.each<[type: string, valid: readonly unknown[], invalid: readonly unknown[]]>([
    ['boolean', [true, false], ['true', 1, 0]],
    [
      'integer',
      [0, -5, 2_147_483_647, -2_147_483_648],
      [2_147_483_648, -2_147_483_649, 1.5, '1', new LosslessNumber('1.0')],
    ],
    ['unsignedInt', [0, 2_147_483_647], [-1, 2_147_483_648]],
    ['positiveInt', [1, 2_147_483_647], [0, -1, 2_147_483_648]],
    [
      'decimal',
      [0, -0.5, 1e30, new LosslessNumber('30.50'), new LosslessNumber('0.000'), new LosslessNumber('1e-300')],
      [
        '30.50',
        Number.NaN,
        Number.POSITIVE_INFINITY,
        new LosslessNumber('1e999'),
        new LosslessNumber('1e-999'),
      ],
    ],
    // The page itself warns that its pattern misses the no-break (U+00A0) and ideographic (U+3000) spaces.
    ['string', ['a', ' a ', 'a\u00a0b', 'a\u3000b', 'a\r\n\tb', 'é'], ['', ' ', '\n\t', '\u00a0', 5, true]],
    ['string', ['x'.repeat(1024 * 1024)], ['x'.repeat(1024 * 1024 + 1)]],
    ['markdown', ['# a', 'a\n\tb'], ['', '  ', 'a\u0007']],
    ['code', ['a', 'a b', '>='], ['', ' a', 'a ', 'a  b', 'a\tb']],
    ['id', ['a', 'A-1.b', 'x'.repeat(64)], ['', 'a_b', 'a b', 'x'.repeat(65), 'ä']],
    ['uri', ['http://a/b', 'urn:x:y', '#a', 'urn:oid:1.2.3'], ['', 'a b', ' ', 'a\u00a0b', 'urn:oid:1.02']],
    // RFC 4122, 3: UUIDs are written in small letters and read in either case.
    [
      'uri',
      ['urn:uuid:C757873D-EC9A-4326-A141-556F43239520'],
      ['urn:uuid:c757873d', 'urn:uuid:c757873dec9a4326a141556f43239520'],
    ],
    ['url', ['http://a/b'], ['', 'http://a b']],
    ['canonical', ['http://a/b|1#c', 'urn:oid:1.2|3', '#a'], ['', 'a b', 'http://a|1 0', 'urn:oid:x|3']],
    [
      'oid',
      ['urn:oid:1.2.3', 'urn:oid:2.16.840.1.113883'],
      ['1.2.3', 'urn:oid:3.1', 'urn:oid:1.02', 'urn:oid:1'],
    ],
    [
      'uuid',
      ['urn:uuid:c757873d-ec9a-4326-a141-556f43239520'],
      ['c757873d-ec9a-4326-a141-556f43239520', 'urn:uuid:C757873D-EC9A-4326-A141-556F43239520', 'urn:uuid:1'],
    ],
    ['base64Binary', ['YQ==', 'YWJj', 'YW Jj\nYWJj'], ['', 'YQ', 'YQ=', 'Y===', 'Y-_=', 'YQ==YQ==']],
    ['date', ['2024', '2024-02', '2024-02-29'], ['2024-02-30', '2024-13', '24', '2024-02-29T00:00:00Z']],
    ['dateTime', ['2024', '2024-02-29T08:00:00.5+01:00'], ['2024-02-30T08:00:00Z', '2024-02-29T08:00Z']],
    ['instant', ['2024-02-29T08:00:00Z'], ['2024-02-29', '2023-02-29T08:00:00Z']],
    ['time', ['08:00:00', '08:00:00.123'], ['8:00', '24:00:00', '08:00:00Z']],
  ])('%s', (type, valid, invalid) => {
    expect(valid.filter((value) => !isValid(type, value))).toEqual([]);
    expect(invalid.filter((value) => isValid(type, value))).toEqual([]);
  });
});

describe.skipIf(publishedFolder === undefined)(
  'values made by the published patterns (HL7 FHIR R4 4.0.1; skipped where these are not at hand)',
  () => {
    /** What the pages say beyond their patterns. */
    const beyond: Readonly<Record<string, (text: string) => boolean>> = {
      date: isRealDay,
      dateTime: isRealDay,
      instant: isRealDay,
      string: isNotBlank,
      markdown: (text) => isNotBlank(text) && !/[\0-\x08\v\f\x0e-\x1f]/.test(text),
      uri: isNotBlank,
      url: isNotBlank,
      canonical: isNotBlank,
      code: (text) => !/[^\S ]/.test(text),
      integer: (text) => Math.abs(Number(text)) <= 2_147_483_647,
      positiveInt: (text) => Number(text) <= 2_147_483_647,
      unsignedInt: (text) => Number(text) <= 2_147_483_647,
      decimal: (text) => Number.isFinite(Number(text)) && (Number(text) !== 0 || !/^[^eE]*[1-9]/.test(text)),
      id: () => true,
      oid: () => true,
      uuid: () => true,
      time: () => true,
    };

    test.each(Object.entries(beyond))('%s', (type, holds) => {
      fc.assert(
        fc.property(fc.stringMatching(new RegExp(`^(?:${patternOf(type)})$`)), (text) => {
          const value = NUMBERS.has(type) ? new LosslessNumber(text) : text;
          expect(isValid(type, value)).toBe(holds(text));
        }),
      );
    });

    function patternOf(type: string): string {
      const structure = published(`definitions/StructureDefinition-${type}.json`);
      const quoted = /StructureDefinition\/regex",\s*"valueString":\s*("(?:[^"\\]|\\.)*")/.exec(
        structure,
      )?.[1];
      return JSON.parse(quoted ?? '""') as string;
    }

    function isNotBlank(text: string): boolean {
      return text.trim() !== '';
    }

    /** The patterns let days through that no month has. */
    function isRealDay(text: string): boolean {
      const [, year, month, day] = /^(\d{4})-(\d\d)-(\d\d)/.exec(text) ?? [];
      if (day === undefined) return true;
      const date = new Date(`${String(year)}-${String(month)}-01T00:00:00Z`);
      date.setUTCDate(Number(day));
      return date.getUTCMonth() + 1 === Number(month);
    }
  },
);
