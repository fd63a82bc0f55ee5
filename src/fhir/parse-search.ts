import { dateRange } from './instants.js';
import type { FhirIssue } from './issue.js';
import { readTarget } from './reference-target.js';
import { findSearchParameter, searchParameters } from './search-parameters.js';
import type { ResourceType, SearchParameter } from './search-parameters.js';
import type {
  DateMatch,
  Prefix,
  ReferenceMatch,
  SearchClause,
  SearchQuery,
  TokenMatch,
} from './search-query.js';

/** What a search means depends on these. */
export interface SearchContext {
  /** IANA zone of dates without one. */
  readonly siteZone: string;
  /** The FHIR base, without a slash at its end. */
  readonly baseUrl: string;
  /** Milliseconds since 1970: `ap` is wider the further a date is from now. */
  readonly now: number;
  /** `Prefer: handling=strict`: what is not offered is refused instead of left out. */
  readonly strict: boolean;
}

export interface ParsedSearch {
  readonly query: SearchQuery;
  /** `_summary=count` or `_count=0`: the total alone. */
  readonly countOnly: boolean;
  readonly wantsTotal: boolean;
  /** Name and value of each parameter that took part, as the self link states them. */
  readonly used: readonly Parameter[];
  /** A warning for each parameter that was left out. */
  readonly warnings: readonly FhirIssue[];
}

export type Parameter = readonly [name: string, value: string];

export type SearchParsing =
  | { readonly ok: true; readonly search: ParsedSearch }
  | { readonly ok: false; readonly issues: readonly FhirIssue[] };

/**
 * Reads the parameters of a search on one type (R4 search). Every fault is listed, each with `http.` and the
 * parameter's name as its place. Parameters without a value are passed over. `-after` is the place in the pages that
 * our own `next` links carry.
 */
export function parseSearch(
  type: ResourceType,
  parameters: Iterable<Parameter>,
  context: SearchContext,
): SearchParsing {
  const given = [...parameters].filter(([, value]) => value !== '');
  if (given.length > LIMITS.parameters) return { ok: false, issues: [TOO_MANY_PARAMETERS] };
  const issues: FhirIssue[] = [];
  const warnings: FhirIssue[] = [];
  const used: Parameter[] = [];
  const clauses: SearchClause[] = [];
  let shape = DEFAULT_SHAPE;
  const seen = new Set<string>();
  for (const [name, value] of given) {
    const outcome = readParameter(type, name, value, context, seen);
    if (outcome.kind === 'faults')
      issues.push(...outcome.faults.map((fault) => issueOf('error', name, fault)));
    else if (outcome.kind === 'left-out') warnings.push(issueOf('warning', name, outcome.fault));
    else if (outcome.kind === 'clause') clauses.push(outcome.clause);
    else shape = { ...shape, ...outcome.shape };
    if ('stated' in outcome) used.push([name, outcome.stated]);
  }
  if (context.strict) issues.push(...warnings.map((issue) => ({ ...issue, severity: 'error' as const })));
  if (issues.length > 0) return { ok: false, issues };
  const { countOnly, wantsTotal, ...pages } = shape;
  return { ok: true, search: { query: { type, clauses, ...pages }, countOnly, wantsTotal, used, warnings } };
}

/** Matches on a page when nothing is asked, and at most. */
export const PAGE_SIZE = { default: 50, maximum: 500 } as const;

/** Beyond these a search is refused: it is no question a person or system would ask. */
const LIMITS = { parameters: 64, values: 256, valueLength: 1024 } as const;

/** The parameter of our `next` links; the dash marks it as ours (R4 search: custom parameters). */
export const AFTER = '-after';

/** How the result is cut, beside what is chosen. */
interface Shape extends Pick<SearchQuery, 'sort' | 'count' | 'after'> {
  readonly countOnly: boolean;
  readonly wantsTotal: boolean;
}

const DEFAULT_SHAPE: Shape = { sort: [], count: PAGE_SIZE.default, countOnly: false, wantsTotal: false };

interface Fault {
  readonly code: FhirIssue['code'];
  readonly sentence: string;
  readonly found?: string;
  readonly allowed?: readonly string[];
}

/** What one parameter came to; `stated` is its value in the self link, absent where it changed nothing. */
type Outcome =
  | { readonly kind: 'clause'; readonly clause: SearchClause; readonly stated: string }
  | { readonly kind: 'shape'; readonly shape: Partial<Shape>; readonly stated?: string }
  | { readonly kind: 'left-out'; readonly fault: Fault }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] };

function readParameter(
  type: ResourceType,
  name: string,
  value: string,
  context: SearchContext,
  seen: Set<string>,
): Outcome {
  if (value.includes('\0'))
    return refuse({ code: 'invalid', sentence: 'A value cannot hold the character NUL.' });
  const control = controls.get(name);
  if (control === undefined) return readFilter(type, name, value, context);
  if (seen.has(name)) return refuse({ code: 'invalid', sentence: `${name} is given more than once.` });
  seen.add(name);
  return control(value, type);
}

function readFilter(type: ResourceType, name: string, value: string, context: SearchContext): Outcome {
  const [code = '', ...modifiers] = name.split(':');
  const [bare = '', ...chained] = code.split('.');
  const parameter = findSearchParameter(type, bare);
  if (parameter === undefined)
    return leaveOut(`${type} has no search parameter ${bare.slice(0, 80)} here; it was left out.`);
  if (chained.length > 0 || modifiers.length > 1 || modifiers[0]?.includes('.') === true)
    return refuse({ code: 'not-supported', sentence: 'Chained parameters are not offered.' });
  const stated = parameter.kind === 'date' ? withPlus(value) : value;
  const values = splitEscaped(stated, ',').filter((part) => part !== '');
  if (values.length === 0) return { kind: 'shape', shape: {} };
  if (values.length > LIMITS.values)
    return refuse({ code: 'too-costly', sentence: `At most ${LIMITS.values} values can be given at once.` });
  if (values.some((part) => part.length > LIMITS.valueLength))
    return refuse({ code: 'too-costly', sentence: `A value has at most ${LIMITS.valueLength} characters.` });
  const reading = readClause(parameter, modifiers[0], values, context);
  return 'faults' in reading
    ? { kind: 'faults', faults: reading.faults }
    : { kind: 'clause', clause: reading.clause, stated };
}

/** Parameters that shape the result and choose nothing (R4 search, managing returned resources). */
const controls: ReadonlyMap<string, (value: string, type: ResourceType) => Outcome> = new Map([
  ['_count', readCount],
  ['_sort', readSort],
  ['_total', readTotal],
  ['_summary', readSummary],
  [AFTER, readAfter],
  // The format is chosen by the door, before the search is read.
  ['_format', (value: string): Outcome => ({ kind: 'shape', shape: {}, stated: value })],
  // Stored bytes are sent as they are.
  ['_pretty', (): Outcome => ({ kind: 'shape', shape: {} })],
]);

function readCount(value: string): Outcome {
  if (!/^\d{1,9}$/.test(value))
    return refuse({ code: 'value', sentence: '_count is a whole number, 0 or more.', found: value });
  const count = Math.min(Number(value), PAGE_SIZE.maximum);
  return { kind: 'shape', shape: count === 0 ? { countOnly: true } : { count }, stated: String(count) };
}

function readSort(value: string, type: ResourceType): Outcome {
  const keys = value.split(',').filter((key) => key !== '');
  const sort = keys.map((key) => ({ parameter: key.replace(/^-/, ''), descending: key.startsWith('-') }));
  const allowed = searchParameters[type].filter((row) => row.sortable).map((row) => row.code);
  const unknown = sort.map((key) => key.parameter).filter((code) => !allowed.includes(code));
  if (unknown.length === 0) return { kind: 'shape', shape: { sort }, stated: keys.join(',') };
  const sentence = `${type} can be sorted by ${allowed.join(', ')}.`;
  return refuse({ code: 'not-supported', sentence, found: unknown.join(','), allowed });
}

function readTotal(value: string): Outcome {
  const allowed = ['none', 'estimate', 'accurate'];
  if (allowed.includes(value))
    return { kind: 'shape', shape: { wantsTotal: value !== 'none' }, stated: value };
  return refuse({ code: 'value', sentence: `_total is ${allowed.join(', ')}.`, found: value, allowed });
}

function readSummary(value: string): Outcome {
  if (value === 'count') return { kind: 'shape', shape: { countOnly: true }, stated: value };
  if (value === 'false') return { kind: 'shape', shape: {}, stated: value };
  if (['true', 'text', 'data'].includes(value))
    return leaveOut(`_summary=${value} is not offered; it was left out.`);
  const allowed = ['count', 'false'];
  return refuse({ code: 'value', sentence: `_summary is ${allowed.join(' or ')}.`, found: value, allowed });
}

function readAfter(after: string): Outcome {
  if (after.length <= LIMITS.valueLength) return { kind: 'shape', shape: { after }, stated: after };
  return refuse({ code: 'invalid', sentence: `${AFTER} is no place that a next link gave.` });
}

function refuse(...faults: readonly Fault[]): Outcome {
  return { kind: 'faults', faults };
}

/** R4 search, handling errors: what is not known is left out, unless the client asks for strict handling. */
function leaveOut(sentence: string): Outcome {
  return { kind: 'left-out', fault: { code: 'not-supported', sentence } };
}

function issueOf(severity: 'error' | 'warning', name: string, { sentence, ...fault }: Fault): FhirIssue {
  const place = { rule: `search-${fault.code}`, expression: `http.${name.slice(0, 80)}` };
  return { severity, ...place, ...fault, diagnostics: sentence };
}

const TOO_MANY_PARAMETERS: FhirIssue = {
  severity: 'error',
  code: 'too-costly',
  rule: 'search-too-costly',
  expression: 'http',
  diagnostics: `A search takes at most ${LIMITS.parameters} parameters.`,
};

type Read<T> = { readonly value: T } | { readonly fault: Fault };
type ClauseReading = { readonly clause: SearchClause } | { readonly faults: readonly Fault[] };

function readClause(
  parameter: SearchParameter,
  modifier: string | undefined,
  values: readonly string[],
  context: SearchContext,
): ClauseReading {
  const { code } = parameter;
  if (modifier === 'missing' && parameter.kept !== true) return readMissing(code, values);
  switch (parameter.kind) {
    case 'token':
      return readTokenClause(code, modifier, values);
    case 'string': {
      const how = STRING_MODIFIERS.get(modifier);
      if (how === undefined) return notOffered(modifier);
      return { clause: { kind: 'string', parameter: code, how, values: values.map(unescaped) } };
    }
    case 'reference':
      return readReferenceClause(parameter, modifier, values, context);
    case 'date':
      if (modifier !== undefined) return notOffered(modifier);
      return gather(
        values.map((text) => readDate(text, context)),
        (matches) => ({ kind: 'date', parameter: code, values: matches }),
      );
  }
}

function readTokenClause(
  code: string,
  modifier: string | undefined,
  values: readonly string[],
): ClauseReading {
  if (code === '_id') {
    if (modifier !== undefined) return notOffered(modifier);
    return { clause: { kind: 'id', parameter: code, ids: values.map(unescaped) } };
  }
  if (modifier !== undefined && modifier !== 'not') return notOffered(modifier);
  const not = modifier === 'not' ? { not: true } : {};
  return gather(values.map(readToken), (matches) => ({
    kind: 'token',
    parameter: code,
    ...not,
    values: matches,
  }));
}

function readReferenceClause(
  { code, targets }: SearchParameter & { readonly kind: 'reference' },
  modifier: string | undefined,
  values: readonly string[],
  { baseUrl }: SearchContext,
): ClauseReading {
  if (modifier !== undefined && !isTypeModifier(modifier, targets)) return notOffered(modifier);
  const typeOfBareId = modifier ?? (targets?.length === 1 ? targets[0] : undefined);
  return gather(
    values.map((text) => readReferenceMatch(unescaped(text), { typeOfBareId, modifier, baseUrl })),
    (matches) => ({ kind: 'reference', parameter: code, values: matches }),
  );
}

/** R4 search, string: begins with, unless a modifier says otherwise. */
const STRING_MODIFIERS: ReadonlyMap<string | undefined, 'starts' | 'contains' | 'exact'> = new Map([
  [undefined, 'starts'],
  ['contains', 'contains'],
  ['exact', 'exact'],
]);

/** R4 search, reference: `subject:Patient=1`. */
function isTypeModifier(modifier: string, targets: readonly string[] | undefined): boolean {
  return targets === undefined ? /^[A-Z][A-Za-z]+$/.test(modifier) : targets.includes(modifier);
}

/** R4 search, modifiers: one that is not supported is refused, also where leaving out is lenient. */
function notOffered(modifier = ''): ClauseReading {
  const sentence = `The modifier :${modifier.slice(0, 80)} is not offered on this parameter.`;
  return { faults: [{ code: 'not-supported', sentence }] };
}

function gather<T>(
  readings: readonly Read<T>[],
  clauseOf: (values: readonly T[]) => SearchClause,
): ClauseReading {
  const faults = readings.flatMap((reading) => ('fault' in reading ? [reading.fault] : []));
  if (faults.length > 0) return { faults };
  return { clause: clauseOf(readings.flatMap((reading) => ('value' in reading ? [reading.value] : []))) };
}

function readMissing(parameter: string, values: readonly string[]): ClauseReading {
  const [value] = values;
  if (values.length === 1 && (value === 'true' || value === 'false'))
    return { clause: { kind: 'missing', parameter, missing: value === 'true' } };
  return { faults: [{ code: 'value', sentence: ':missing is true or false.', found: values.join(',') }] };
}

/** R4 search, token: `code`, `system|code`, `|code` (no system), `system|` (any code). */
function readToken(text: string): Read<TokenMatch> {
  const [first = '', second, ...more] = splitEscaped(text, '|').map(unescaped);
  if (more.length > 0 || (first === '' && second === ''))
    return badValue('A token is code, system|code, |code or system|.', text);
  if (second === undefined) return { value: { code: first } };
  return {
    value: { system: first === '' ? null : first, ...(second === '' ? {} : { code: second }) },
  };
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

/** A `+` that was not percent-encoded arrives as a space. */
const LOST_PLUS = /(T[\d:.]+) (?=\d\d:\d\d(?:,|$))/g;

const withPlus = (dates: string): string => dates.replaceAll(LOST_PLUS, '$1+');

const DATE_FORM =
  'A date is a year, a month, a day, or a day with a time to the minute or finer, after a prefix such as ge.';

/** R4 search, date and prefixes. */
function readDate(escaped: string, { siteZone, now }: SearchContext): Read<DateMatch> {
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
