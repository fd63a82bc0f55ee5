import { isLosslessNumber } from 'lossless-json';
import { dateRange } from '../instants.js';
import { isJsonObject, type JsonObject } from './walk.js';

/** Whether two JSON values are the same, numbers by their digits: 1.0 is 1.00. */
export function isSame(left: unknown, right: unknown): boolean {
  if (typeof left === 'string' || left === right) return left === right;
  const numbers = [numberText(left), numberText(right)] as const;
  if (numbers[0] !== undefined && numbers[1] !== undefined)
    return compareDecimals(numbers[0], numbers[1]) === 0;
  if (Array.isArray(left) && Array.isArray(right)) {
    return left.length === right.length && left.every((item, index) => isSame(item, right[index]));
  }
  if (isJsonObject(left) && isJsonObject(right)) {
    const keys = Object.keys(left);
    return keys.length === Object.keys(right).length && keys.every((key) => isSame(left[key], right[key]));
  }
  return left === right;
}

/** Whether a value is what is given for it. */
export type ValueTest = (value: unknown) => boolean;

/** Tests for the whole of a value (R4 ElementDefinition.fixed[x]). */
export function compileFixed(fixed: unknown): ValueTest {
  return (value) => isSame(value, fixed);
}

/**
 * Tests for what a pattern has (R4 ElementDefinition.pattern[x]): of an object at least its members, of an array at least
 * one item for each of its items.
 */
export function compilePattern(pattern: unknown): ValueTest {
  if (Array.isArray(pattern)) {
    const tests = pattern.map(compilePattern);
    return (value) =>
      Array.isArray(value) && tests.every((test) => value.some((item: unknown) => test(item)));
  }
  if (!isJsonObject(pattern)) return compileFixed(pattern);
  const members = Object.entries(pattern).map(([name, each]) => [name, compilePattern(each)] as const);
  return (value) => isJsonObject(value) && members.every(([name, test]) => test(value[name]));
}

/** How a value stands to a limit of its type: below 0, 0 or above 0; undefined when that cannot be told. */
export function compareToLimit(value: unknown, limit: unknown): number | undefined {
  const numbers = [numberText(value), numberText(limit)] as const;
  if (numbers[0] !== undefined && numbers[1] !== undefined) return compareDecimals(numbers[0], numbers[1]);
  if (typeof value === 'string' && typeof limit === 'string') return compareMoments(value, limit);
  if (isJsonObject(value) && isJsonObject(limit)) return compareQuantities(value, limit);
  return undefined;
}

/** A JSON value for a sentence, cut where it is long. */
export function show(value: unknown): string {
  const text = numberText(value) ?? jsonText(value);
  return text.length <= 200 ? text : `${text.slice(0, 200)}…`;
}

/** What is no JSON after all (an object that holds itself) is only named. */
function jsonText(value: unknown): string {
  try {
    return JSON.stringify(value, (_key, each: unknown) => numberText(each) ?? each);
  } catch {
    return 'a value that is no JSON';
  }
}

/** A count in a definition, whose numbers may keep their digits. */
export const countOf = (value: unknown): number => Number(String(value));

/** The digits of a JSON number, however it was parsed. */
export function numberText(value: unknown): string | undefined {
  return typeof value === 'number' || isLosslessNumber(value) ? String(value) : undefined;
}

/** Dates by what they cover: of 2020 and 2020-06-01 neither comes first. */
function compareMoments(value: string, limit: string): number | undefined {
  if (/^\d\d:/.test(limit)) return /^\d\d:/.test(value) ? compareTexts(value, limit) : undefined;
  const [own, other] = [dateRange(value, 'UTC'), dateRange(limit, 'UTC')];
  if (own === undefined || other === undefined) return undefined;
  if (own.low === other.low && own.high === other.high) return 0;
  if (own.high <= other.low) return -1;
  return own.low >= other.high ? 1 : undefined;
}

/** Times of day differ in length only by their decimals: 10:00:00 is 10:00:00.0. */
function compareTexts(value: string, limit: string): number {
  const length = Math.max(value.length, limit.length, '00:00:00.0'.length);
  const [own, other] = [value, limit].map((text) =>
    (text.includes('.') ? text : `${text}.`).padEnd(length, '0'),
  );
  return String(own) < String(other) ? -1 : own === other ? 0 : 1;
}

/** Quantities of one unit; a conversion is not tried. */
function compareQuantities(value: JsonObject, limit: JsonObject): number | undefined {
  const unitOf = (quantity: JsonObject): unknown => quantity['code'] ?? quantity['unit'];
  if (!isSame(unitOf(value), unitOf(limit)) || !isSame(value['system'], limit['system'])) return undefined;
  return compareToLimit(value['value'], limit['value']);
}

/** A decimal as 0.DIGITS times ten to the power of `exponent`, without zeros at the ends. */
interface Parts {
  readonly sign: number;
  readonly digits: string;
  readonly exponent: number;
}

/** Compares by digits, so that no double rounds and no exponent is written out. */
function compareDecimals(left: string, right: string): number {
  const [own, other] = [partsOf(left), partsOf(right)];
  if (own.sign !== other.sign) return Math.sign(own.sign - other.sign);
  if (own.exponent !== other.exponent) return own.sign * Math.sign(own.exponent - other.exponent);
  if (own.digits === other.digits) return 0;
  return own.digits < other.digits ? -own.sign : own.sign;
}

function partsOf(text: string): Parts {
  const [, minus = '', whole = '', fraction = '', power = '0'] =
    /^(-?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d+))?$/.exec(text) ?? [];
  const all = whole + fraction;
  const significant = all.replace(/^0+/, '');
  const digits = significant.replace(/0+$/, '');
  if (digits === '') return { sign: 0, digits, exponent: 0 };
  const exponent = whole.length - (all.length - significant.length) + Number(power);
  return { sign: minus === '' ? 1 : -1, digits, exponent };
}
