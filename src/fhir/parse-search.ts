import { r4Definitions } from './definitions/index.js';
import type { FhirIssue } from './issue.js';
import type { ResourceType } from './resource-types.js';
import { readFilter } from './search-clauses.js';
import type { ClauseContext, Fault } from './search-clauses.js';
import { readInclude } from './search-includes.js';
import type { SearchInclude } from './search-includes.js';
import { searchParameters } from './search-parameters.js';
import type { SearchClause, SearchQuery } from './search-query.js';

/** What a search means depends on these. */
export interface SearchContext extends ClauseContext {
  /** `Prefer: handling=strict`: what is not offered is refused instead of left out. */
  readonly strict: boolean;
  /** What the one who answers cannot do: a clause is refused then, the rest left out. */
  readonly notAnswered?: ReadonlySet<SearchFeature>;
}

/** What a search can ask for: the kinds of its clauses, and what shapes its result. */
export type SearchFeature = SearchClause['kind'] | 'include' | 'summary' | 'elements';

export interface ParsedSearch {
  readonly query: SearchQuery;
  /** `_summary=count` or `_count=0`: the total alone. */
  readonly countOnly: boolean;
  readonly wantsTotal: boolean;
  /** What shall come with the matches, each asked once. */
  readonly includes: readonly SearchInclude[];
  /** `_summary`: which part of each resource is sent; absent: all. */
  readonly summary?: 'true' | 'text' | 'data';
  /** `_elements`: the elements of the searched type to send, beside the mandatory ones; absent: all. */
  readonly elements?: readonly string[];
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
    else if (outcome.kind === 'include') shape = { ...shape, includes: [...shape.includes, outcome.include] };
    else shape = { ...shape, ...outcome.shape };
    if ('stated' in outcome) used.push([name, outcome.stated]);
  }
  if (shape.summary === 'text' && shape.includes.length > 0) issues.push(TEXT_WITH_INCLUDES);
  if (context.strict) issues.push(...warnings.map((issue) => ({ ...issue, severity: 'error' as const })));
  if (issues.length > 0) return { ok: false, issues };
  const { sort, count, after, ...result } = shape;
  const pages = { sort, count, ...(after === undefined ? {} : { after }) };
  return { ok: true, search: { query: { type, clauses, ...pages }, ...result, used, warnings } };
}

/** Matches on a page when nothing is asked, and at most. */
export const PAGE_SIZE = { default: 50, maximum: 500 } as const;

/** Beyond these a search is refused: it is no question a person or system would ask. */
const LIMITS = { parameters: 64, valueLength: 1024 } as const;

/** The parameter of our `next` links; the dash marks it as ours (R4 search: custom parameters). */
export const AFTER = '-after';

/** How the result is cut and what comes with it, beside what is chosen. */
interface Shape
  extends
    Pick<SearchQuery, 'sort' | 'count' | 'after'>,
    Pick<ParsedSearch, 'countOnly' | 'wantsTotal' | 'includes' | 'summary' | 'elements'> {}

const DEFAULT_SHAPE: Shape = {
  sort: [],
  count: PAGE_SIZE.default,
  countOnly: false,
  wantsTotal: false,
  includes: [],
};

/** What one parameter came to; `stated` is its value in the self link, absent where it changed nothing. */
type Outcome =
  | { readonly kind: 'clause'; readonly clause: SearchClause; readonly stated: string }
  | { readonly kind: 'include'; readonly include: SearchInclude; readonly stated: string }
  | { readonly kind: 'shape'; readonly shape: Partial<Shape>; readonly stated?: string }
  | { readonly kind: 'left-out'; readonly fault: Fault }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] };

/** The parameters that ask for more than the whole matches. */
const FEATURES: ReadonlyMap<string, SearchFeature> = new Map([
  ['_include', 'include'],
  ['_revinclude', 'include'],
  ['_summary', 'summary'],
  ['_elements', 'elements'],
]);

function readParameter(
  type: ResourceType,
  name: string,
  value: string,
  context: SearchContext,
  seen: Set<string>,
): Outcome {
  if (value.includes('\0'))
    return refuse({ code: 'invalid', sentence: 'A value cannot hold the character NUL.' });
  const [base = '', ...modifiers] = name.split(':');
  const feature = FEATURES.get(base);
  if (
    feature !== undefined &&
    value !== 'count' &&
    value !== 'false' &&
    context.notAnswered?.has(feature) === true
  )
    return leaveOut(`${base} is not answered here; it was left out.`);
  if (feature === 'include') return readIncluding(type, name, value);
  const control = controls.get(base);
  if (control === undefined) return readChoice(type, name, value, context);
  if (modifiers.length > 0)
    return refuse({ code: 'not-supported', sentence: `${base} takes no modifier.`, allowed: [] });
  if (seen.has(name)) return refuse({ code: 'invalid', sentence: `${name} is given more than once.` });
  seen.add(name);
  return control(value, type);
}

function readChoice(type: ResourceType, name: string, value: string, context: SearchContext): Outcome {
  const reading = readFilter(type, name, value, context);
  switch (reading.kind) {
    case 'clause':
      return isAnswered(reading.clause, context) ? reading : refuse(NOT_ANSWERED);
    case 'faults':
      return reading;
    case 'unknown':
      return { kind: 'left-out', fault: reading.fault };
    case 'empty':
      return { kind: 'shape', shape: {} };
  }
}

const NOT_ANSWERED: Fault = { code: 'not-supported', sentence: 'Such a search is not answered here.' };

/** Whether the clause and all that are within it can be answered. */
function isAnswered(clause: SearchClause, context: SearchContext): boolean {
  if (context.notAnswered?.has(clause.kind) === true) return false;
  return clausesWithin(clause).every((inner) => isAnswered(inner, context));
}

function clausesWithin(clause: SearchClause): readonly SearchClause[] {
  if (clause.kind === 'any') return clause.of.flat();
  if (clause.kind === 'none') return clause.of;
  return 'clause' in clause ? [clause.clause] : [];
}

function readIncluding(type: ResourceType, name: string, value: string): Outcome {
  const reading = readInclude(type, name, value);
  return 'fault' in reading
    ? refuse(reading.fault)
    : { kind: 'include', include: reading.include, stated: value };
}

/** Parameters that shape the result and choose nothing (R4 search, managing returned resources). */
const controls: ReadonlyMap<string, (value: string, type: ResourceType) => Outcome> = new Map([
  ['_count', readCount],
  ['_sort', readSort],
  ['_total', readTotal],
  ['_summary', readSummary],
  ['_elements', readElements],
  ['_contained', readContained],
  ['_containedType', readContainedType],
  [AFTER, readAfter],
  // The format is chosen by the door, before the search is read.
  ['_format', (value: string): Outcome => ({ kind: 'shape', shape: {}, stated: value })],
  ['_pretty', (value: string): Outcome => ({ kind: 'shape', shape: {}, stated: value })],
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
  switch (value) {
    case 'count':
      return { kind: 'shape', shape: { countOnly: true }, stated: value };
    case 'false':
      return { kind: 'shape', shape: {}, stated: value };
    case 'true':
    case 'text':
    case 'data':
      return { kind: 'shape', shape: { summary: value }, stated: value };
    default: {
      const allowed = ['true', 'text', 'data', 'count', 'false'];
      return refuse({ code: 'value', sentence: `_summary is ${allowed.join(', ')}.`, found: value, allowed });
    }
  }
}

/** R4 search, `_elements`: names of elements of the type itself. */
function readElements(value: string, type: ResourceType): Outcome {
  const elements = value.split(',').filter((name) => name !== '');
  const known = elementsOf(type);
  const unknown = elements.filter((name) => !known.has(name));
  if (unknown.length === 0) return { kind: 'shape', shape: { elements }, stated: elements.join(',') };
  const sentence = `_elements names elements of ${type} itself, as in id,status.`;
  return refuse({ code: 'value', sentence, found: unknown.join(',').slice(0, 80), allowed: [...known] });
}

/** The names of a type's own elements, `value` for `value[x]`. */
function elementsOf(type: string): ReadonlySet<string> {
  const definition = r4Definitions.types.find(({ name }) => name === type);
  if (definition === undefined) return new Set();
  const own = definition.elements.map(({ path }) => path).filter((path) => !path.includes('.'));
  return new Set([...elementsOf(definition.base ?? ''), ...own.map((path) => path.replace('[x]', ''))]);
}

/** R4 search, contained resources: they are not found by themselves. */
function readContained(value: string): Outcome {
  if (value === 'false') return { kind: 'shape', shape: {}, stated: value };
  const sentence = 'Contained resources are not searched by themselves; _contained is false.';
  return refuse({ code: 'not-supported', sentence, found: value, allowed: ['false'] });
}

function readContainedType(value: string): Outcome {
  if (value === 'container') return { kind: 'shape', shape: {}, stated: value };
  const sentence = 'Contained resources are not searched by themselves; _containedType is container.';
  return refuse({ code: 'not-supported', sentence, found: value, allowed: ['container'] });
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

/** R4 search, `_summary`: the two are not mixed. */
const TEXT_WITH_INCLUDES: FhirIssue = {
  severity: 'error',
  code: 'not-supported',
  rule: 'search-not-supported',
  expression: 'http._summary',
  diagnostics: '_summary=text cannot be asked together with _include or _revinclude.',
};
