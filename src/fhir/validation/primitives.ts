import { isLosslessNumber } from 'lossless-json';
import { DECIMAL } from '../decimal.js';
import { isDate, isDateTime, isInstant, isTime } from '../instants.js';

/** The rule of a primitive type: how JSON writes it, which values it has, and how to say so. */
export interface PrimitiveRule {
  readonly json: 'string' | 'number' | 'boolean';
  /** Takes the string, the digits of the number, or the boolean as text. */
  readonly accepts: (text: string) => boolean;
  /** Ends the sentence "must be ...". */
  readonly form: string;
}

/** R4 datatypes, string: "SHALL NOT exceed 1MB (1024*1024 characters) in size". */
const MAX_STRING = 1024 * 1024;
/** R4 datatypes, integer: "a signed integer in the range -2,147,483,648..2,147,483,647". */
const MAX_INTEGER = 2_147_483_647;

const INTEGER = /^-?(?:0|[1-9]\d*)$/;
const NATURAL = /^(?:0|[1-9]\d*)$/;
const BASE64 = /^[A-Za-z0-9+/]*={0,2}$/;

/** The published pattern `[ \r\n\t\S]+` would refuse no-break and ideographic spaces; what is meant is "not blank". */
const isText = (text: string): boolean => text.length <= MAX_STRING && /\S/.test(text);

const isWholeIn = (text: string, min: number, max: number): boolean =>
  (min < 0 ? INTEGER : NATURAL).test(text) && Number(text) >= min && Number(text) <= max;

/** R4 datatypes, decimal; one that a double cannot hold at all (1e999, 1e-999) is refused. */
function isDecimal(text: string): boolean {
  if (!DECIMAL.test(text)) return false;
  const value = Math.abs(Number(text));
  return value > Number.MIN_VALUE ? value <= Number.MAX_VALUE : !/[1-9]/.test(text.split(/[eE]/)[0] ?? '');
}

/** Groups of four, which white space may part anywhere (R4 datatypes, base64Binary). */
function isBase64(text: string): boolean {
  const data = text.replaceAll(/\s+/g, '');
  return data !== '' && data.length % 4 === 0 && BASE64.test(data);
}

const matching = (pattern: RegExp, form: string): PrimitiveRule => ({
  json: 'string',
  accepts: (text) => pattern.test(text),
  form,
});

const wholeNumber = (min: number, max: number): PrimitiveRule => ({
  json: 'number',
  accepts: (text) => isWholeIn(text, min, max),
  form: `a whole number from ${String(min)} to ${String(max)}`,
});

const text: PrimitiveRule = {
  json: 'string',
  accepts: isText,
  form: 'a text that is not blank, of at most 1,048,576 characters',
};
/** R4 datatypes, markdown (from memory): no "Unicode character points below 32", but tab and the ends of lines. */
const CONTROL = /[\0-\x08\v\f\x0e-\x1f]/;
const markdown: PrimitiveRule = {
  json: 'string',
  accepts: (value) => isText(value) && !CONTROL.test(value),
  form: `${text.form}, without control characters`,
};
const OID = /^urn:oid:[0-2](?:\.(?:0|[1-9]\d*))+$/;
const UUID = /^urn:uuid:[\da-f]{8}(?:-[\da-f]{4}){3}-[\da-f]{12}$/;

/** R4 datatypes, uri: no space; a URN of an OID or a UUID has their form (RFC 4122, 3: either case is read). */
export function isUri(text: string): boolean {
  if (!/^\S+$/.test(text)) return false;
  if (!text.startsWith('urn:')) return true;
  if (text.startsWith('urn:oid:')) return OID.test(text);
  return !text.startsWith('urn:uuid:') || UUID.test(text.toLowerCase());
}

/** R4 datatypes, canonical: a URI, then perhaps "|" with a version and "#" with the id of what is in it. */
const isCanonical = (text: string): boolean => !/\s/.test(text) && isUri(text.split(/[|#]/, 1)[0] || text);

const uri: PrimitiveRule = {
  json: 'string',
  accepts: isUri,
  form: 'a URI without spaces; urn:oid: is followed by an OID, urn:uuid: by a UUID',
};

/** R4 datatypes, "Primitive Types", by name; Element.id: "any string value that does not contain spaces". */
const RULES: ReadonlyMap<string, PrimitiveRule> = new Map<string, PrimitiveRule>([
  ['boolean', { json: 'boolean', accepts: () => true, form: 'true or false' }],
  ['integer', wholeNumber(-MAX_INTEGER - 1, MAX_INTEGER)],
  ['unsignedInt', wholeNumber(0, MAX_INTEGER)],
  ['positiveInt', wholeNumber(1, MAX_INTEGER)],
  ['decimal', { json: 'number', accepts: isDecimal, form: 'a decimal number' }],
  ['string', text],
  ['markdown', markdown],
  ['xhtml', text],
  ['code', matching(/^\S+(?: \S+)*$/, 'a code: no space at its ends, no two spaces together')],
  ['id', matching(/^[A-Za-z0-9\-.]{1,64}$/, 'an id: 1 to 64 letters, digits, "-" and "."')],
  ['Element.id', matching(/^\S+$/, 'an id without spaces')],
  ['uri', uri],
  ['url', uri],
  ['canonical', { ...uri, accepts: isCanonical }],
  ['oid', matching(OID, 'an OID as a URI: urn:oid:1.2.3')],
  ['uuid', matching(UUID, 'a UUID as a URI, in small letters')],
  ['base64Binary', { json: 'string', accepts: isBase64, form: 'base64 in groups of four characters' }],
  ['date', { json: 'string', accepts: isDate, form: 'a real date: YYYY, YYYY-MM or YYYY-MM-DD' }],
  [
    'dateTime',
    {
      json: 'string',
      accepts: isDateTime,
      form: 'a real date, or YYYY-MM-DDThh:mm:ss with Z or an offset',
    },
  ],
  [
    'instant',
    { json: 'string', accepts: isInstant, form: 'a real moment: YYYY-MM-DDThh:mm:ss with Z or an offset' },
  ],
  ['time', { json: 'string', accepts: isTime, form: 'a time of day: hh:mm:ss' }],
]);

/**
 * The rule of a primitive type, or the closer one that R4 has for the element (`Element.id`). Throws when the definitions
 * name a type that R4 does not have.
 */
export function primitiveRule(type: string, element: string): PrimitiveRule {
  const rule = RULES.get(element) ?? RULES.get(type);
  if (rule === undefined) throw new Error(`no rule for the primitive type ${type}`);
  return rule;
}

/** What a JSON value of a primitive type is judged by, or undefined when its JSON type is another. */
export function primitiveText(value: unknown, json: PrimitiveRule['json']): string | undefined {
  if (typeof value === 'string') return json === 'string' ? value : undefined;
  if (json === 'number')
    return typeof value === 'number' || isLosslessNumber(value) ? String(value) : undefined;
  return json === 'boolean' && typeof value === 'boolean' ? String(value) : undefined;
}
