import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readNumberMatch } from '../../src/fhir/search-number.js';

describe('a number in a search', () => {
  /** R4 search, number, the table of examples; 5.4 from R4 search, quantity. The last from memory. */
  test.each([
    ['100', 99.5, 100.5],
    ['100.00', 99.995, 100.005],
    ['1e2', 95, 105],
    ['5.4', 5.35, 5.45],
    ['5.40e-3', 0.005395, 0.005405],
  ])('%s means from %d up to %d (R4 search, number)', (text, low, high) => {
    expect(readNumberMatch(text)).toEqual({ prefix: 'eq', value: Number(text), low, high });
  });

  test('keeps its digits: 5.40 is narrower than 5.4, and a sign turns nothing round', () => {
    expect(readNumberMatch('5.40')).toMatchObject({ low: 5.395, high: 5.405 });
    expect(readNumberMatch('-5.4')).toMatchObject({ value: -5.4, low: -5.45, high: -5.35 });
    expect(readNumberMatch('0')).toMatchObject({ value: 0, low: -0.5, high: 0.5 });
  });

  test('reads prefixes; ap is a tenth to either side, or the digits where they are wider (R4 search, prefixes)', () => {
    expect(readNumberMatch('ge60')).toMatchObject({ prefix: 'ge', value: 60 });
    expect(readNumberMatch('ap100')).toMatchObject({ low: 90, high: 110 });
    expect(readNumberMatch('ap-100')).toMatchObject({ low: -110, high: -90 });
    expect(readNumberMatch('ap1')).toMatchObject({ low: 0.5, high: 1.5 });
  });

  test.each(['', 'x', '5.', '.5', '5,4', '1e', '1e9999', '1e999', 'xx5', '--5', ' 5', '0x10', 'Infinity'])(
    'is none when it is %j',
    (text) => {
      expect(readNumberMatch(text)).toBeUndefined();
    },
  );

  test('lies within the range that its digits fix, whose ends are those of exact arithmetic', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -999_999, max: 999_999 }),
        fc.integer({ min: 0, max: 6 }),
        (units, places) => {
          const text = (units / 10 ** places).toFixed(places);
          const match = readNumberMatch(text);
          expect(match?.low).toBe(Number(`${units * 10 - 5}e-${places + 1}`));
          expect(match?.high).toBe(Number(`${units * 10 + 5}e-${places + 1}`));
          expect(match?.low).toBeLessThan(Number(text));
          expect(match?.high).toBeGreaterThan(Number(text));
        },
      ),
    );
  });
});
