import { LosslessNumber } from 'lossless-json';

/**
 * A FHIR value with each `number` allowed to be a `LosslessNumber`, which keeps the digits as they were written:
 * 30.50 stays 30.50 (R4 datatypes, decimal: "the precision of the decimal value has significance").
 */
export type Lossless<T> = T extends number
  ? number | LosslessNumber
  : T extends string | boolean | undefined | null
    ? T
    : { readonly [K in keyof T]: Lossless<T[K]> };

/** The decimal with exactly these digits; `text` must match `DECIMAL`. Throws on anything else. */
export function decimal(text: string): LosslessNumber {
  if (!DECIMAL.test(text)) throw new RangeError(`not a decimal: ${text}`);
  return new LosslessNumber(text);
}

/** The pattern of a JSON number, which is that of a FHIR decimal (R4 datatypes, decimal). */
export const DECIMAL = /^-?(0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?$/;
