import { WITH_TEXTS } from './extract-search-values.js';
import { dateRange } from './instants.js';
import type { FhirIssue } from './issue.js';
import { soundsOf } from './phonetic.js';
import { readTarget } from './reference-target.js';
import { isStoredType, RESOURCE_TYPES } from './resource-types.js';
import type { ResourceType } from './resource-types.js';
import { readNumberMatch } from './search-number.js';
import { findSearchParameter } from './search-parameters.js';
import type { CompositePlace, SearchParameter } from './search-parameters.js';
import type {
  DateMatch,
  Prefix,
  QuantityMatch,
  ReferenceMatch,
  SearchClause,
  TokenMatch,
} from './search-query.js';

/** What the values of a search mean depends on these. */
export interface ClauseContext {
  /** IANA zone of dates without one. */
  readonly siteZone: string;
  /** The FHIR base, without a slash at its end. */
  readonly baseUrl: string;
  /** Milliseconds since 1970: `ap` is wider the further a date is from now. */
  readonly now: number;
  /** The codes of a value set by its URL, for `:in` and `:not-in`; undefined when it is not known. */
  readonly expandValueSet?: (url: string) => readonly TokenMatch[] | undefined;
}

/** Why a parameter cannot be read. */
export interface Fault {
  readonly code: FhirIssue['code'];
  readonly sentence: string;
  readonly found?: string;
  readonly allowed?: readonly string[];
}

/** What one parameter that chooses came to; `stated` is its value in the self link. */
export type FilterReading =
  | { readonly kind: 'clause'; readonly clause: SearchClause; readonly stated: string }
  /** It has no value, and so chooses nothing. */
  | { readonly kind: 'empty' }
  | { readonly kind: 'unknown'; readonly fault: Fault }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] };

/** Beyond these a search is refused: it is no question a person or system would ask. */
const LIMITS = { values: 256, valueLength: 1024, links: 3 } as const;

/** Parameters of R4 that choose and are not offered: leaving them out would widen a clinical search. */
const NOT_OFFERED: ReadonlySet<string> = new Set([
  ...['_text', '_content', '_list', '_query', '_filter', '_type', 'near'],
]);

/**
 * Reads a parameter that chooses: `code`, with a modifier (`code:not`), through references (`subject:Patient.name`), or by
 * what refers to it (`_has:Observation:patient:code`). `links` counts the references already followed.
 */
export function readFilter(
  type: ResourceType,
  name: string,
  value: string,
  context: ClauseContext,
  links = 0,
): FilterReading {
  if (links > LIMITS.links)
    return refuse('too-costly', `A search follows at most ${LIMITS.links} references one after another.`);
  if (name.startsWith(`${HAS}:`)) return readHas(type, name, value, context, links);
  const dot = name.indexOf('.');
  const [code = '', modifier, ...more] = (dot < 0 ? name : name.slice(0, dot)).split(':');
  const parameter = findSearchParameter(type, code);
  if (parameter === undefined) return readUnknown(type, code);
  if (more.length > 0) return refused(notOffered([modifier, ...more].join(':'), parameter));
  if (dot < 0) return readValues({ type, parameter, modifier, value, context });
  const asked = { parameter, modifier, rest: name.slice(dot + 1) };
  return readChain(asked, value, context, links);
}

function readUnknown(type: ResourceType, code: string): FilterReading {
  const shown = code.slice(0, 80);
  if (NOT_OFFERED.has(code)) return refuse('not-supported', `The search parameter ${shown} is not offered.`);
  const sentence = `${type} has no search parameter ${shown} here; it was left out.`;
  return { kind: 'unknown', fault: { code: 'not-supported', sentence } };
}

interface AskedChain {
  readonly parameter: SearchParameter;
  /** The type that the reference shall lead to. */
  readonly modifier: string | undefined;
  readonly rest: string;
}

/** R4 search, chained parameters. */
function readChain(asked: AskedChain, value: string, context: ClauseContext, links: number): FilterReading {
  const { parameter, modifier, rest } = asked;
  const { code } = parameter;
  if (parameter.kind !== 'reference')
    return refuse('not-supported', `${code} is no reference, so that nothing can be chained to it.`);
  const targets = RESOURCE_TYPES.filter((type) => parameter.targets?.includes(type) !== false);
  const [only, ...others] = modifier === undefined ? targets : targets.filter((type) => type === modifier);
  if (only === undefined)
    return refuse('not-supported', `${code} leads to no ${modifier ?? 'type'} here.`, targets);
  if (others.length > 0)
    return refuse(
      'not-supported',
      `${code} leads to several types; name one, as in ${code}:${only}.${rest.slice(0, 80)}.`,
      targets,
    );
  const inner = readFilter(only, rest, value, context, links + 1);
  return linked(inner, (clause) => ({ kind: 'chain', parameter: code, target: only, clause }));
}

const HAS = '_has';

/** R4 search, reverse chaining: `_has:Observation:patient:code`. */
function readHas(
  type: ResourceType,
  name: string,
  value: string,
  context: ClauseContext,
  links: number,
): FilterReading {
  const [, source = '', code = '', ...rest] = name.split(':');
  if (rest.length === 0)
    return refuse(
      'invalid',
      `${HAS} is followed by a type, its reference and a parameter: ${HAS}:Observation:patient:code.`,
    );
  if (!isStoredType(source))
    return refuse('not-supported', `No ${source.slice(0, 80)} is searched here.`, RESOURCE_TYPES);
  const parameter = findSearchParameter(source, code);
  if (parameter?.kind !== 'reference' || parameter.targets?.includes(type) === false)
    return refuse('not-supported', `${source} has no reference ${code.slice(0, 80)} to ${type}.`);
  const inner = readFilter(source, rest.join(':'), value, context, links + 1);
  return linked(inner, (clause) => ({ kind: 'has', type: source, parameter: code, clause }));
}

/** What is unknown at the other end of a reference is refused: without it the search would mean another thing. */
function linked(inner: FilterReading, clauseOf: (clause: SearchClause) => SearchClause): FilterReading {
  if (inner.kind === 'unknown')
    return refused({ ...inner.fault, sentence: inner.fault.sentence.replace('; it was left out', '') });
  return inner.kind === 'clause' ? { ...inner, clause: clauseOf(inner.clause) } : inner;
}

function refuse(code: Fault['code'], sentence: string, allowed?: readonly string[]): FilterReading {
  return refused({ code, sentence, ...(allowed === undefined ? {} : { allowed }) });
}

const refused = (...faults: readonly Fault[]): FilterReading => ({ kind: 'faults', faults });

/** One parameter with its values, all of one type. */
interface Asked {
  readonly type: ResourceType;
  readonly parameter: SearchParameter;
  readonly modifier: string | undefined;
  readonly value: string;
  readonly context: ClauseContext;
}

function readValues({ value, ...asked }: Asked): FilterReading {
  const stated = holdsDates(asked) ? value.replaceAll(LOST_PLUS, '$1+') : value;
  const values = splitEscaped(stated, ',').filter((part) => part !== '');
  if (values.length === 0) return { kind: 'empty' };
  if (values.length > LIMITS.values)
    return refuse('too-costly', `At most ${LIMITS.values} values can be given at once.`);
  if (values.some((part) => part.length > LIMITS.valueLength))
    return refuse('too-costly', `A value has at most ${LIMITS.valueLength} characters.`);
  const reading = readClause({ ...asked, values });
  return 'faults' in reading
    ? refused(...reading.faults)
    : { kind: 'clause', clause: reading.clause, stated };
}

/** A `+` that was not percent-encoded arrives as a space. */
const LOST_PLUS = /(T[\d:.]+) (?=\d\d:\d\d(?:[,$]|$))/g;

function holdsDates({ type, parameter }: Pick<Asked, 'type' | 'parameter'>): boolean {
  if (parameter.kind !== 'composite') return parameter.kind === 'date';
  const parts = parameter.places.flatMap((place) => place.parts);
  return parts.some((code) => findSearchParameter(type, code)?.kind === 'date');
}

type Read<T> = { readonly value: T } | { readonly fault: Fault };
type ClauseReading = { readonly clause: SearchClause } | { readonly faults: readonly Fault[] };

interface AskedClause extends Omit<Asked, 'value'> {
  /** As they were between the commas, escapes kept. */
  readonly values: readonly string[];
}

function readClause(asked: AskedClause): ClauseReading {
  const { parameter, modifier, values, context } = asked;
  if (modifier === 'missing' && isLeftOutAtTimes(parameter)) return readMissing(parameter, values);
  switch (parameter.kind) {
    case 'token':
      return readTokenClause(parameter, modifier, values, context);
    case 'string':
      return readStringClause(parameter, modifier, values);
    case 'reference':
      return readReferenceClause(parameter, modifier, values, context);
    case 'uri': {
      const how = URI_MODIFIERS.get(modifier);
      if (how === undefined) return { faults: [notOffered(modifier, parameter)] };
      return { clause: { kind: 'uri', parameter: parameter.code, how, values: values.map(unescaped) } };
    }
    case 'date':
      if (modifier !== undefined) return { faults: [notOffered(modifier, parameter)] };
      return gather(
        values.map((text) => readDate(text, context)),
        (matches) => ({ kind: 'date', parameter: parameter.code, values: matches }),
      );
    case 'quantity':
      if (modifier !== undefined) return { faults: [notOffered(modifier, parameter)] };
      return gather(values.map(readQuantity), (matches) =>
        overParts(parameter, (code) => ({ kind: 'quantity', parameter: code, values: matches })),
      );
    case 'composite':
      if (modifier !== undefined) return { faults: [notOffered(modifier, parameter)] };
      return readComposite({ ...asked, places: parameter.places });
  }
}

/** R4 search, `:missing`; an id and a time of change are never missing, and composites take no modifiers. */
function isLeftOutAtTimes(parameter: SearchParameter): boolean {
  return parameter.kept !== true && parameter.kind !== 'composite';
}

/** The modifiers that a parameter takes, for the one who asked for another. */
function modifiersOf(parameter: SearchParameter): readonly string[] {
  const missing = isLeftOutAtTimes(parameter) ? ['missing'] : [];
  switch (parameter.kind) {
    case 'token':
      if (parameter.kept === true) return ['not'];
      return [...missing, 'not', 'in', 'not-in', ...(hasTexts(parameter) ? ['text'] : [])];
    case 'string':
      return parameter.phonetic === true ? missing : [...missing, 'exact', 'contains'];
    case 'reference':
      return [...missing, 'identifier', ...(parameter.targets ?? [])];
    case 'uri':
      return [...missing, 'below', 'above'];
    case 'date':
    case 'quantity':
    case 'composite':
      return missing;
  }
}

/** R4 search, modifiers: one that is not supported is refused, also where leaving out is lenient. */
function notOffered(modifier: string | undefined, parameter: SearchParameter): Fault {
  const sentence = `The modifier :${(modifier ?? '').slice(0, 80)} is not offered on ${parameter.code}.`;
  const allowed = modifiersOf(parameter).map((name) => `:${name}`);
  return { code: 'not-supported', sentence, allowed };
}

const hasTexts = ({ paths }: SearchParameter & { readonly kind: 'token' }): boolean =>
  paths.some(({ datatype }) => WITH_TEXTS.has(datatype));

/** The clause of a parameter; of one that joins two others, either of theirs. */
function overParts(
  { code, joins }: Pick<SearchParameter & { readonly kind: 'token' }, 'code' | 'joins'>,
  clauseOf: (code: string) => SearchClause,
): SearchClause {
  return joins === undefined ? clauseOf(code) : { kind: 'any', of: joins.map((part) => [clauseOf(part)]) };
}

function gather<T>(
  readings: readonly Read<T>[],
  clauseOf: (values: readonly T[]) => SearchClause,
): ClauseReading {
  const faults = readings.flatMap((reading) => ('fault' in reading ? [reading.fault] : []));
  if (faults.length > 0) return { faults };
  return { clause: clauseOf(readings.flatMap((reading) => ('value' in reading ? [reading.value] : []))) };
}

function readMissing(parameter: SearchParameter, values: readonly string[]): ClauseReading {
  const [value] = values;
  if (values.length !== 1 || (value !== 'true' && value !== 'false'))
    return {
      faults: [
        {
          code: 'value',
          sentence: ':missing is true or false.',
          found: values.join(','),
          allowed: ['true', 'false'],
        },
      ],
    };
  const missing = value === 'true';
  const joins = 'joins' in parameter ? parameter.joins : undefined;
  const clauses = (joins ?? [parameter.code]).map((code): SearchClause => ({
    kind: 'missing',
    parameter: code,
    missing,
  }));
  const [only] = clauses;
  if (only !== undefined && joins === undefined) return { clause: only };
  return { clause: { kind: 'any', of: missing ? [clauses] : clauses.map((clause) => [clause]) } };
}

type TokenParameter = SearchParameter & { readonly kind: 'token' };

function readTokenClause(
  parameter: TokenParameter,
  modifier: string | undefined,
  values: readonly string[],
  context: ClauseContext,
): ClauseReading {
  if (parameter.kept === true) return readIdClause(parameter, modifier, values);
  switch (modifier) {
    case undefined:
    case 'not':
      return gather(values.map(readToken), (matches) => tokenClause(parameter, modifier === 'not', matches));
    case 'in':
    case 'not-in':
      return gather(
        values.map((text) => readValueSet(unescaped(text), context)),
        (sets) => tokenClause(parameter, modifier === 'not-in', sets.flat()),
      );
    case 'text':
      if (!hasTexts(parameter)) return { faults: [notOffered(modifier, parameter)] };
      return {
        clause: overParts(parameter, (code) => ({
          kind: 'text',
          parameter: code,
          values: values.map(unescaped),
        })),
      };
    default:
      return { faults: [notOffered(modifier, parameter)] };
  }
}

function readIdClause(
  parameter: TokenParameter,
  modifier: string | undefined,
  values: readonly string[],
): ClauseReading {
  if (modifier !== undefined && modifier !== 'not') return { faults: [notOffered(modifier, parameter)] };
  const clause: SearchClause = { kind: 'id', parameter: '_id', ids: values.map(unescaped) };
  return { clause: modifier === 'not' ? { kind: 'none', of: [clause] } : clause };
}

function tokenClause(parameter: TokenParameter, not: boolean, values: readonly TokenMatch[]): SearchClause {
  const { code, joins } = parameter;
  if (!not) return overParts(parameter, (part) => ({ kind: 'token', parameter: part, values }));
  if (joins === undefined) return { kind: 'token', parameter: code, not, values };
  return { kind: 'none', of: joins.map((part) => ({ kind: 'token', parameter: part, values })) };
}

/** R4 search, token: `code`, `system|code`, `|code` (no system), `system|` (any code). */
function readToken(text: string): Read<TokenMatch> {
  const [first = '', second, ...more] = splitEscaped(text, '|').map(unescaped);
  if (more.length > 0 || (first === '' && (second ?? '') === ''))
    return badValue('A token is code, system|code, |code or system|.', text);
  if (second === undefined) return { value: { code: first } };
  return {
    value: { system: first === '' ? null : first, ...(second === '' ? {} : { code: second }) },
  };
}

function readValueSet(url: string, { expandValueSet }: ClauseContext): Read<readonly TokenMatch[]> {
  const codes = expandValueSet?.(url);
  return codes === undefined ? badValue('The value set is not published here.', url) : { value: codes };
}

/** R4 search, string: begins with, unless a modifier says otherwise. */
const STRING_MODIFIERS: ReadonlyMap<string | undefined, 'starts' | 'contains' | 'exact'> = new Map([
  [undefined, 'starts'],
  ['contains', 'contains'],
  ['exact', 'exact'],
]);

/** R4 search, uri: the very same, unless a modifier says otherwise. */
const URI_MODIFIERS: ReadonlyMap<string | undefined, 'exact' | 'below' | 'above'> = new Map([
  [undefined, 'exact'],
  ['below', 'below'],
  ['above', 'above'],
]);

function readStringClause(
  parameter: SearchParameter & { readonly kind: 'string' },
  modifier: string | undefined,
  values: readonly string[],
): ClauseReading {
  const how = STRING_MODIFIERS.get(modifier);
  if (how === undefined || (parameter.phonetic === true && modifier !== undefined))
    return { faults: [notOffered(modifier, parameter)] };
  const { code } = parameter;
  const texts = values.map(unescaped);
  if (parameter.phonetic !== true) return { clause: { kind: 'string', parameter: code, how, values: texts } };
  const sound = (value: string): SearchClause => ({
    kind: 'string',
    parameter: code,
    how: 'exact',
    values: [value],
  });
  // A value without a word sounds like nothing.
  const heard = texts.map((text) => soundsOf(text).map(sound)).filter((words) => words.length > 0);
  return { clause: { kind: 'any', of: heard } };
}

type ReferenceParameter = SearchParameter & { readonly kind: 'reference' };

function readReferenceClause(
  parameter: ReferenceParameter,
  modifier: string | undefined,
  values: readonly string[],
  { baseUrl }: ClauseContext,
): ClauseReading {
  const { code, targets } = parameter;
  if (modifier === 'identifier')
    return gather(values.map(readToken), (matches) => ({
      kind: 'token',
      parameter: `${code}:identifier`,
      values: matches,
    }));
  if (modifier !== undefined && !isTypeModifier(modifier, targets))
    return { faults: [notOffered(modifier, parameter)] };
  const typeOfBareId = modifier ?? (targets?.length === 1 ? targets[0] : undefined);
  return gather(
    values.map((text) => readReferenceMatch(unescaped(text), { typeOfBareId, modifier, baseUrl })),
    (matches) => ({ kind: 'reference', parameter: code, values: matches }),
  );
}

/** R4 search, reference: `subject:Patient=1`. */
function isTypeModifier(modifier: string, targets: readonly string[] | undefined): boolean {
  return targets === undefined ? /^[A-Z][A-Za-z]+$/.test(modifier) : targets.includes(modifier);
}

const BARE_ID = /^[A-Za-z0-9\-.]{1,64}$/;

/** R4 search, reference: an id, `Type/id`, or an absolute URL; on this base the last two are the same. */
function readReferenceMatch(
  text: string,
  given: { typeOfBareId: string | undefined; modifier: string | undefined; baseUrl: string },
): Read<ReferenceMatch> {
  const { typeOfBareId: type, modifier, baseUrl } = given;
  if (BARE_ID.test(text)) return { value: type === undefined ? { id: text } : { type, id: text } };
  const target = readTarget(text, baseUrl);
  if (target === undefined) return badValue('A reference is an id, Type/id or an absolute URL.', text);
  if (modifier !== undefined && target.type !== modifier)
    return badValue(`The reference is not of the type ${modifier} asked for.`, text);
  return { value: 'url' in target ? { url: target.url } : target };
}

function badValue(sentence: string, found: string): { readonly fault: Fault } {
  return { fault: { code: 'value', sentence, found } };
}

const PREFIXED = /^(eq|ne|gt|lt|ge|le|sa|eb|ap)?(.*)$/s;

const DATE_FORM =
  'A date is a year, a month, a day, or a day with a time to the minute or finer, after a prefix such as ge.';

/** R4 search, date and prefixes. */
function readDate(escaped: string, { siteZone, now }: ClauseContext): Read<DateMatch> {
  const text = unescaped(escaped);
  const [, prefix = 'eq', dateText = ''] = PREFIXED.exec(text) ?? [];
  const range = dateRange(dateText, siteZone);
  if (range === undefined) return badValue(DATE_FORM, text);
  return { value: prefix === 'ap' ? approximate(range, now) : { prefix: prefix as Prefix, ...range } };
}

/** R4 search, prefix ap: the recommended width is a tenth of the gap between now and the date. */
function approximate({ low, high }: Pick<DateMatch, 'low' | 'high'>, now: number): DateMatch {
  const gap = now < low ? low - now : Math.max(0, now - high);
  return { prefix: 'ap', low: low - Math.round(gap / 10), high: high + Math.round(gap / 10) };
}

/** R4 search, quantity: `5.4`, `5.4|system|code`, `5.4||code` (a code or a printed unit), after a prefix. */
function readQuantity(text: string): Read<QuantityMatch> {
  const [number = '', system, unit, ...more] = splitEscaped(text, '|').map(unescaped);
  const match = readNumberMatch(number);
  const isWhole = system === undefined || (unit !== undefined && (unit !== '' || system === ''));
  if (match === undefined || more.length > 0 || !isWhole)
    return badValue(
      'A quantity is a number, number|system|code or number||unit, after a prefix such as ge.',
      text,
    );
  if (system === undefined || unit === undefined || unit === '') return { value: match };
  return { value: system === '' ? { ...match, unit } : { ...match, system, code: unit } };
}

/** R4 search, composite: `code$value`, both of the same element. */
function readComposite({
  places,
  ...asked
}: AskedClause & { readonly places: readonly CompositePlace[] }): ClauseReading {
  const alternatives: (readonly SearchClause[])[] = [];
  for (const value of asked.values) {
    for (const place of places) {
      const reading = readPlace(place, splitEscaped(value, '$'), asked);
      if ('faults' in reading) return reading;
      alternatives.push(reading.clauses);
    }
  }
  return { clause: { kind: 'any', of: alternatives } };
}

type PlaceReading = { readonly clauses: readonly SearchClause[] } | { readonly faults: readonly Fault[] };

function readPlace(place: CompositePlace, texts: readonly string[], asked: AskedClause): PlaceReading {
  const { parts } = place;
  if (texts.length !== parts.length || texts.includes('')) {
    const sentence = `${asked.parameter.code} has ${parts.length} values joined by $.`;
    return { faults: [{ code: 'value', sentence, found: texts.join('$') }] };
  }
  const clauses: SearchClause[] = [];
  for (const [index, code] of parts.entries()) {
    const parameter = findSearchParameter(asked.type, code);
    if (parameter === undefined) continue;
    const { type, context } = asked;
    const reading = readClause({
      type,
      parameter,
      modifier: undefined,
      values: [texts[index] ?? ''],
      context,
    });
    if ('faults' in reading) return reading;
    clauses.push(reading.clause);
  }
  return { clauses: place.kind === 'resource' ? clauses : [togetherIn(place, clauses)] };
}

/** The clauses of two parts as one on the element that both stand in. */
function togetherIn(
  place: CompositePlace & { readonly kind: 'pair' | 'quantity' },
  [first, second]: readonly SearchClause[],
): SearchClause {
  const codes = first?.kind === 'token' ? first.values : [];
  if (place.kind === 'quantity') {
    const values = second?.kind === 'quantity' ? second.values : [];
    return { kind: 'quantity', parameter: place.parts[1], codes, values };
  }
  const others = second?.kind === 'token' ? second.values : [];
  const values = codes.flatMap((code) => others.map((other) => ({ first: code, second: other })));
  return { kind: 'pair', parameter: place.parameter, values };
}

/** The parts between separators that no backslash stands before; escapes are kept. */
function splitEscaped(text: string, separator: string): readonly string[] {
  const parts: string[] = [];
  let start = 0;
  for (let at = 0; at < text.length; at += 1) {
    if (text[at] === '\\') at += 1;
    else if (text[at] === separator) {
      parts.push(text.slice(start, at));
      start = at + 1;
    }
  }
  return [...parts, text.slice(start)];
}

/** R4 search, escaping: `\,` `\|` `\$` `\\`. */
function unescaped(text: string): string {
  return text.replace(/\\([,|$\\])/g, '$1');
}
