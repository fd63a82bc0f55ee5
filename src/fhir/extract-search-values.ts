import { dateRange } from './instants.js';
import { compilePath, memberOf } from './path.js';
import { readTarget } from './reference-target.js';
import { RESOURCE_TYPES, searchParameters } from './search-parameters.js';
import type { SearchParameter, StringDatatype, TokenDatatype } from './search-parameters.js';
import type {
  DateValue,
  ReferenceValue,
  SearchValues,
  StringValue,
  TextValue,
  TokenValue,
} from './search-values.js';

/** Where dates without a zone are read, and which absolute references are on this base. */
export interface ExtractionSettings {
  /** IANA name. */
  readonly siteZone: string;
  /** Tells the FHIR base, without a slash at its end; a service learns its port only when it listens. */
  readonly baseUrl: () => string;
}

/**
 * Makes the function that finds what a stored resource is to be found by: every value of every search parameter of its
 * type. The resource is valid R4; a value of the wrong shape gives no search value and no fault. Types without search
 * parameters give none.
 */
export function compileExtractor(settings: ExtractionSettings): (resource: unknown) => SearchValues {
  const rules = new Map<string, readonly Rule[]>(
    RESOURCE_TYPES.map((type) => [type, searchParameters[type].filter(isExtracted).map(compileRule)]),
  );
  return (resource) => {
    const found = new Found();
    const type = textOf(resource, 'resourceType');
    for (const { path, read } of rules.get(type ?? '') ?? []) {
      for (const node of path(resource)) read(node, found, settings);
    }
    return found;
  };
}

/** A code that no query can name: it says that a concept of words alone is there (for `:missing`). */
export const WORDS_ALONE = '';

interface Rule {
  readonly path: (resource: unknown) => readonly unknown[];
  readonly read: (node: unknown, found: Found, settings: ExtractionSettings) => void;
}

class Found implements SearchValues {
  readonly tokens: TokenValue[] = [];
  readonly texts: TextValue[] = [];
  readonly pairs: SearchValues['pairs'] = [];
  readonly references: ReferenceValue[] = [];
  readonly dates: DateValue[] = [];
  readonly strings: StringValue[] = [];
  readonly quantities: SearchValues['quantities'] = [];
  readonly uris: SearchValues['uris'] = [];
}

const isExtracted = (parameter: SearchParameter): boolean => parameter.kept !== true;

function compileRule(parameter: SearchParameter): Rule {
  return { path: compilePath(parameter.expression), read: readerOf(parameter) };
}

function readerOf(parameter: SearchParameter): Rule['read'] {
  switch (parameter.kind) {
    case 'token': {
      const read = tokenReaders[parameter.datatype];
      return (node, found) => {
        for (const token of read(node, parameter.system)) {
          found.tokens.push({ parameter: parameter.code, ...token });
        }
        for (const text of textsBeside(node)) found.texts.push({ parameter: parameter.code, text });
      };
    }
    case 'string': {
      const read = stringReaders[parameter.datatype];
      return (node, found) => {
        for (const text of read(node)) found.strings.push({ parameter: parameter.code, text });
      };
    }
    case 'reference':
      return (node, found, { baseUrl }) => {
        const reference = readReferenceValue(node, baseUrl());
        if (reference !== undefined) found.references.push({ parameter: parameter.code, ...reference });
      };
    case 'date':
      return (node, found, { siteZone }) => {
        const range = rangeOf(node, siteZone);
        if (range !== undefined) found.dates.push({ parameter: parameter.code, ...range });
      };
  }
}

type Token = Omit<TokenValue, 'parameter'>;
type Reference = Omit<ReferenceValue, 'parameter'>;
type Range = Omit<DateValue, 'parameter'>;

/** R4 search, token: which part of each datatype is the system and which the code. */
const tokenReaders: Readonly<
  Record<TokenDatatype, (node: unknown, system: string | undefined) => readonly Token[]>
> = {
  code: (node, system) => (typeof node === 'string' ? [tokenOf(system, node)] : []),
  boolean: (node, system) => (typeof node === 'boolean' ? [tokenOf(system, String(node))] : []),
  Coding: (node) => readSystemAnd(node, 'code'),
  CodeableConcept: readConcept,
  Identifier: (node) => readSystemAnd(node, 'value'),
  // A contact's system (phone, email) is no code system.
  ContactPoint: (node) => {
    const value = textOf(node, 'value');
    return value === undefined ? [] : [{ code: value }];
  },
};

function readConcept(node: unknown): readonly Token[] {
  const codings = listOf(node, 'coding').flatMap((coding) => readSystemAnd(coding, 'code'));
  if (codings.length > 0 || textOf(node, 'text') === undefined) return codings;
  return [{ code: WORDS_ALONE }];
}

/** R4 search, token, `:text`: CodeableConcept.text, Coding.display, Identifier.type.text. */
function textsBeside(node: unknown): readonly string[] {
  const displays = listOf(node, 'coding').flatMap((coding) => textsOf(coding, ['display']));
  return [...textsOf(node, ['text', 'display']), ...displays, ...textsOf(memberOf(node, 'type'), ['text'])];
}

function readSystemAnd(node: unknown, part: 'code' | 'value'): readonly Token[] {
  const code = textOf(node, part);
  return code === undefined ? [] : [tokenOf(textOf(node, 'system'), code)];
}

function tokenOf(system: string | undefined, code: string): Token {
  return system === undefined ? { code } : { system, code };
}

/** R4 search, string: any part of a name or an address may match. */
const stringReaders: Readonly<Record<StringDatatype, (node: unknown) => readonly string[]>> = {
  string: (node) => (typeof node === 'string' ? [node] : []),
  HumanName: (node) => textsOf(node, ['text', 'family', 'given', 'prefix', 'suffix']),
  Address: (node) => textsOf(node, ['text', 'line', 'city', 'district', 'state', 'postalCode', 'country']),
};

function readReferenceValue(node: unknown, baseUrl: string): Reference | undefined {
  const text = textOf(node, 'reference');
  const target = text === undefined ? undefined : readTarget(text, baseUrl);
  const [business] = readSystemAnd(memberOf(node, 'identifier'), 'value');
  if (target === undefined && business === undefined) return undefined;
  const stated = target?.type ?? textOf(node, 'type');
  return {
    ...(stated === undefined ? {} : { type: stated }),
    ...target,
    ...(business === undefined ? {} : { identifier: identifierOf(business) }),
  };
}

function identifierOf({ system, code }: Token): NonNullable<Reference['identifier']> {
  return system === undefined ? { value: code } : { system, value: code };
}

/** R4 search, date: a date by its precision, a Period by its bounds, a Timing by its outer limits. */
function rangeOf(node: unknown, siteZone: string): Range | undefined {
  if (typeof node === 'string') return dateRange(node, siteZone);
  const bounds = memberOf(memberOf(node, 'repeat'), 'boundsPeriod');
  const events = listOf(node, 'event').flatMap((event) => rangeOf(event, siteZone) ?? []);
  const period = periodRange(bounds ?? node, siteZone);
  return widest(period === undefined ? events : [...events, period]);
}

function periodRange(node: unknown, siteZone: string): Range | undefined {
  const start = textOf(node, 'start');
  const end = textOf(node, 'end');
  if (start === undefined && end === undefined) return undefined;
  return {
    low: start === undefined ? null : (dateRange(start, siteZone)?.low ?? null),
    high: end === undefined ? null : (dateRange(end, siteZone)?.high ?? null),
  };
}

function widest(ranges: readonly Range[]): Range | undefined {
  const [first, ...rest] = ranges;
  if (first === undefined) return undefined;
  return rest.reduce(
    (wide, range) => ({
      low: wide.low === null || range.low === null ? null : Math.min(wide.low, range.low),
      high: wide.high === null || range.high === null ? null : Math.max(wide.high, range.high),
    }),
    first,
  );
}

function textOf(node: unknown, name: string): string | undefined {
  const value = memberOf(node, name);
  return typeof value === 'string' ? value : undefined;
}

function listOf(node: unknown, name: string): readonly unknown[] {
  const value = memberOf(node, name);
  return Array.isArray(value) ? (value as readonly unknown[]) : [];
}

function textsOf(node: unknown, names: readonly string[]): readonly string[] {
  return names
    .flatMap((name) => memberOf(node, name))
    .filter((text): text is string => typeof text === 'string');
}
