import type { IncludedCodes, ValueSetCodes } from '../definitions/index.js';
import { show } from './given-values.js';
import { compileDimension, isUcumCode } from './units.js';
import { isJsonObject, type JsonObject, objectsIn, type Walk } from './walk.js';

/** Whether a code is in a value set; `system` undefined: the place binds a bare code, its system goes without saying. */
export type CodeMember = (code: unknown, system?: unknown) => boolean;

export interface RequiredBinding {
  readonly isMember: CodeMember;
  /** Codes to name in the fault; none where a code system has no list. */
  readonly allowed: readonly string[];
  /** Ends the sentence "must be ...". */
  readonly form: string;
  readonly url: string;
}

type IsCode = (code: string) => boolean;

/** RFC 6838, 4.2: restricted-name, at most 127 characters. */
const MEDIA_NAME = '[A-Za-z0-9][A-Za-z0-9!#$&^_.+-]{0,126}';
/** RFC 2045, 5.1: a parameter is a token, "=", and a token or quoted string. */
const MEDIA_PARAMETER = String.raw`[!#$%&'*+.^_\x60{|}~A-Za-z0-9-]+=(?:[!#$%&'*+.^_\x60{|}~A-Za-z0-9-]+|"(?:[^"\\]|\\.)*")`;
const MEDIA_TYPE = new RegExp(`^${MEDIA_NAME}/${MEDIA_NAME}(?: ?; ?${MEDIA_PARAMETER})*$`);
/** The short names that R4 has for its own formats (http.html, "General Parameters"); published statements use them. */
const FHIR_FORMATS: ReadonlySet<string> = new Set(['xml', 'json', 'ttl']);

/**
 * RFC 5646, 2.1, langtag: language with extended language, script, region, variants, extensions and private use. No
 * language subtag of four to eight letters is registered.
 */
const LANGUAGE_TAG =
  /^[a-z]{2,3}(?:-[a-z]{3}){0,3}(?:-[a-z]{4})?(?:-(?:[a-z]{2}|\d{3}))?(?:-(?:[a-z\d]{5,8}|\d[a-z\d]{3}))*(?:-[a-wyz\d](?:-[a-z\d]{2,8})+)*(?:-x(?:-[a-z\d]{1,8})+)?$/i;
/** RFC 5646, 2.1, privateuse and the irregular grandfathered tags. */
const OTHER_LANGUAGE =
  /^(?:x(?:-[a-z\d]{1,8})+|en-gb-oed|i-(?:ami|bnn|default|enochian|hak|klingon|lux|mingo|navajo|pwn|tao|tay|tsu)|sgn-be-(?:fr|nl)|sgn-ch-de)$/i;

/**
 * ISO 4217, current alphabetic codes. What follows Intl's money is from memory: funds, metals and units of account, XTS
 * (for tests) and the standard's code for "no currency", which is the letter X three times and no mark of unfinished work.
 */
const CURRENCIES: ReadonlySet<string> = new Set([
  ...Intl.supportedValuesOf('currency'),
  ...'BOV CHE CHW CLF COU MXV USN UYI UYW VED XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX'.split(' '),
]);

/** A code system that is a grammar or a registry rather than a published list. */
interface Grammar {
  readonly isCode: IsCode;
  /** Ends the sentence "must be ...". */
  readonly form: string;
}

const GRAMMARS: ReadonlyMap<string, Grammar> = new Map<string, Grammar>([
  [
    'urn:ietf:bcp:13',
    {
      isCode: (code) => MEDIA_TYPE.test(code) || FHIR_FORMATS.has(code),
      form: 'a media type as text/plain (RFC 6838)',
    },
  ],
  [
    'urn:ietf:bcp:47',
    {
      isCode: (code) => LANGUAGE_TAG.test(code) || OTHER_LANGUAGE.test(code),
      form: 'a language tag as en or de-CH (BCP 47)',
    },
  ],
  ['urn:iso:std:iso:4217', { isCode: (code) => CURRENCIES.has(code), form: 'a currency as EUR (ISO 4217)' }],
  ['http://unitsofmeasure.org', { isCode: isUcumCode, form: 'a unit of UCUM as cm or mm[Hg]' }],
]);

/** Longer lists are no help to read; the value set's URL stands for them. */
const MAX_NAMED = 30;

/** Makes ready a value set of a required binding (R4 terminologies, "required"). */
export function compileBinding({ url, include }: ValueSetCodes): RequiredBinding {
  const parts = include.map((each) => ({ system: each.system, isCode: compileInclude(each) }));
  const isMember: CodeMember = (code, system) =>
    typeof code === 'string' &&
    parts.some((part) => (system === undefined || part.system === system) && part.isCode(code));
  const isListed = include.every(({ codes }) => codes !== undefined);
  const allowed = isListed ? include.flatMap(({ codes = [] }) => codes) : [];
  return { isMember, allowed, form: formOf(url, include, allowed), url };
}

function formOf(url: string, include: readonly IncludedCodes[], allowed: readonly string[]): string {
  if (allowed.length > 0 && allowed.length <= MAX_NAMED) return `one of ${allowed.join(', ')}`;
  const [first, ...others] = include;
  const isGrammar = others.length === 0 && first?.codes === undefined && first?.canonical === undefined;
  return (isGrammar ? GRAMMARS.get(first?.system ?? '')?.form : undefined) ?? `a code of ${url}`;
}

/** A system with neither list nor grammar here is taken at its word. */
function compileInclude({ system, codes, canonical }: IncludedCodes): IsCode {
  if (canonical !== undefined) return compileDimension(canonical);
  if (codes === undefined) return GRAMMARS.get(system)?.isCode ?? (() => true);
  const listed = new Set(codes);
  return (code) => listed.has(code);
}

/**
 * Checks a code, Coding, CodeableConcept or Quantity of the right JSON shape; one that is only extended is left alone.
 */
export function checkRequiredBinding(binding: RequiredBinding, value: unknown, walk: Walk): void {
  if (typeof value === 'string') {
    if (!binding.isMember(value)) reportNotAllowed(binding, value, walk);
  } else if (isJsonObject(value)) {
    const isBound = codingsOf(value).some((coding) => isBoundCoding(binding, coding));
    if (!isBound && value['extension'] === undefined) reportNotAllowed(binding, value, walk);
  }
}

/**
 * Checks what a looser binding allows at most (R4 extension elementdefinition-maxValueSet): where there is a code, one must
 * be of the set; a text, or a quantity without a code for its unit, may stand alone.
 */
export function checkMaxValueSet(binding: RequiredBinding, value: unknown, walk: Walk): void {
  const isCoded = !isJsonObject(value) || codingsOf(value).some(({ code }) => code !== undefined);
  if (isCoded) checkRequiredBinding(binding, value, walk);
}

/** The codings of a concept; a Coding is its own, and so is a Quantity by its unit. */
const codingsOf = (value: JsonObject): readonly JsonObject[] =>
  Array.isArray(value['coding']) ? objectsIn(value['coding']) : [value];

const isBoundCoding = (binding: RequiredBinding, coding: JsonObject): boolean =>
  binding.isMember(coding['code'], coding['system'] ?? null);

function reportNotAllowed(binding: RequiredBinding, found: unknown, walk: Walk): void {
  const { allowed, form, url } = binding;
  walk.report({
    code: 'code-invalid',
    rule: 'required-binding',
    diagnostics: `${codeText(found)} is not allowed here; it must be ${form}.`,
    found,
    allowed: allowed.length > 0 && allowed.length <= MAX_NAMED ? allowed : url,
  });
}

/** The code or codes that were found, as the subject of a sentence. */
function codeText(found: unknown): string {
  if (!isJsonObject(found)) return show(found);
  const codes = codingsOf(found).filter(({ code }) => code !== undefined);
  if (codes.length === 0) return 'A concept without a code';
  const named = codes.map(
    ({ system, code }) => `${show(code)} ${typeof system === 'string' ? `of ${system}` : 'without a system'}`,
  );
  return named.join(' with ');
}
