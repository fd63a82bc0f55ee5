import type { Prefix, QuantityMatch } from './search-query.js';

/** A number in a search: its value and, for `eq`, `ne` and `ap`, the range that is meant. */
export type NumberMatch = Pick<QuantityMatch, 'prefix' | 'value' | 'low' | 'high'>;

const NUMBER = /^(eq|ne|gt|lt|ge|le|sa|eb|ap)?(-?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d{1,3}))?$/;

/**
 * Reads a number with its prefix (R4 search, number). Its digits fix a range of half a unit of the last place to either
 * side: 100 is 99.5 to 100.5, 5.40 is 5.395 to 5.405. A power of ten counts as at least two digits, as in the standard's
 * own example: 1e2 is 95 to 105. `ap` is a tenth of the value to either side, or the digits' range where that is wider.
 * The ends are worked out in decimal, so that each is the number nearest to its text. Undefined when it is no number.
 */
export function readNumberMatch(text: string): NumberMatch | undefined {
  const match = NUMBER.exec(text);
  if (match === null) return undefined;
  const [, prefix = 'eq', sign = '', whole = '', fraction = '', power] = match;
  let digits = BigInt(whole + fraction);
  let place = Number(power ?? 0) - fraction.length;
  if (power !== undefined && digits < 10n) {
    digits *= 10n;
    place -= 1;
  }
  const units = sign === '-' ? -digits : digits;
  const value = scaled(units, place);
  if (!Number.isFinite(value)) return undefined;
  const half = HALF_UNIT;
  const tenth = digits > half ? digits : half;
  const width = prefix === 'ap' ? tenth : half;
  const [low, high] = [scaled(units * 10n - width, place - 1), scaled(units * 10n + width, place - 1)];
  return { prefix: prefix as Prefix, value, low, high };
}

/** Half a unit of the last place, in tenths of it. */
const HALF_UNIT = 5n;

const scaled = (units: bigint, place: number): number => Number(`${String(units)}e${String(place)}`);
