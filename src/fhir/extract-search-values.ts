import { isLosslessNumber } from 'lossless-json';
import { r4Definitions } from './definitions/index.js';
import { dateRange } from './instants.js';
import { compileWalk, memberOf, visitItems } from './path.js';
import type { SearchPath, Step, Walk } from './path.js';
import { soundsOf } from './phonetic.js';
import { readTarget } from './reference-target.js';
import { RESOURCE_TYPES } from './resource-types.js';
import type { ResourceType } from './resource-types.js';
import { findSearchParameter, searchParameters, startsWith } from './search-parameters.js';
import type { CompositePlace, DatatypeOf, PathOf, SearchParameter } from './search-parameters.js';
import type {
  CodeValue,
  DateValue,
  PairValue,
  QuantityValue,
  ReferenceValue,
  SearchValues,
  StringValue,
  TextValue,
  TokenValue,
  UriValue,
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
  const plans = new Map<string, Plan>(RESOURCE_TYPES.map((type) => [type, planOf(rulesOf(type, settings))]));
  return (resource) => {
    const found = new Found();
    const plan = plans.get(textOf(resource, 'resourceType') ?? '');
    if (plan !== undefined) follow(plan, resource as object, found);
    return found;
  };
}

/** A code that no query can name: it says that a concept of words alone is there (for `:missing`). */
export const WORDS_ALONE = '';

class Found implements SearchValues {
  readonly tokens: TokenValue[] = [];
  readonly texts: TextValue[] = [];
  readonly pairs: PairValue[] = [];
  readonly references: ReferenceValue[] = [];
  readonly dates: DateValue[] = [];
  readonly strings: StringValue[] = [];
  readonly quantities: QuantityValue[] = [];
  readonly uris: UriValue[] = [];
}

/** What is read at the end of some steps from the resource. */
interface Rule {
  readonly steps: readonly Step[];
  readonly read: Walk<Found>;
}

/** The rules of a type by the member of the resource that they start with, so that each member is looked at once. */
interface Plan {
  readonly byMember: ReadonlyMap<string, readonly Walk<Found>[]>;
  /** Of the resource as a whole. */
  readonly always: readonly Walk<Found>[];
}

function planOf(rules: readonly Rule[]): Plan {
  const byMember = new Map<string, Walk<Found>[]>();
  const always: Walk<Found>[] = [];
  for (const { steps, read } of rules) {
    const [first, ...rest] = steps;
    if (first?.kind !== 'member') always.push(compileWalk(steps, read));
    else byMember.set(first.name, [...(byMember.get(first.name) ?? []), compileWalk(rest, read)]);
  }
  return { byMember, always };
}

function follow({ byMember, always }: Plan, resource: object, found: Found): void {
  for (const [name, value] of Object.entries(resource)) {
    for (const walk of byMember.get(name) ?? []) visitItems(value, walk, found);
  }
  for (const walk of always) walk(resource, found);
}

function rulesOf(type: ResourceType, settings: ExtractionSettings): readonly Rule[] {
  return searchParameters[type].flatMap((parameter) => {
    if (parameter.kept === true) return [];
    if (parameter.kind === 'composite') return pairRules(parameter.code, parameter.places, type);
    if (parameter.joins !== undefined) return [];
    return valueRules(parameter, type, settings);
  });
}

type ValueParameter = Exclude<SearchParameter, { readonly kind: 'composite' }>;

function valueRules(
  parameter: ValueParameter,
  type: ResourceType,
  settings: ExtractionSettings,
): readonly Rule[] {
  const { code } = parameter;
  switch (parameter.kind) {
    case 'token':
      return parameter.paths.map((path) => ({ steps: path.steps, read: tokenRule(code, path) }));
    case 'string': {
      const isPhonetic = parameter.phonetic === true;
      return parameter.paths.map(({ steps, datatype }) => ({
        steps,
        read: stringRule(code, datatype, isPhonetic),
      }));
    }
    case 'reference':
      return parameter.paths.map(({ steps }) => ({ steps, read: referenceRule(code, settings) }));
    case 'date':
      return parameter.paths.map(({ steps }) => ({ steps, read: dateRule(code, settings) }));
    case 'uri':
      return parameter.paths.map(({ steps }) => ({ steps, read: uriRule(code) }));
    case 'quantity':
      return quantityRules(parameter, type);
  }
}

function tokenRule(parameter: string, path: PathOf<'token'>): Walk<Found> {
  const read = tokenReaderOf(path);
  const readsTexts = WITH_TEXTS.has(path.datatype);
  return (node, found) => {
    for (const { system, code } of read(node))
      found.tokens.push(system === undefined ? { parameter, code } : { parameter, system, code });
    if (readsTexts) for (const text of textsBeside(node)) found.texts.push({ parameter, text });
  };
}

function stringRule(parameter: string, datatype: DatatypeOf<'string'>, isPhonetic: boolean): Walk<Found> {
  const read = stringReaders[datatype];
  return (node, found) => {
    for (const text of read(node)) {
      for (const kept of isPhonetic ? soundsOf(text) : [text]) found.strings.push({ parameter, text: kept });
    }
  };
}

function referenceRule(parameter: string, { baseUrl }: ExtractionSettings): Walk<Found> {
  return (node, found) => {
    if (typeof node === 'string') {
      for (const url of versionsOf(node)) {
        const target = readTarget(url, baseUrl());
        if (target !== undefined) found.references.push({ parameter, ...target });
      }
      return;
    }
    const reference = readReferenceValue(node, parameter, baseUrl());
    if (reference !== undefined) found.references.push(reference);
  };
}

function dateRule(parameter: string, { siteZone }: ExtractionSettings): Walk<Found> {
  return (node, found) => {
    const range = rangeOf(node, siteZone);
    if (range !== undefined) found.dates.push({ parameter, ...range });
  };
}

function uriRule(parameter: string): Walk<Found> {
  return (node, found) => {
    if (typeof node !== 'string') return;
    for (const uri of versionsOf(node)) found.uris.push({ parameter, uri });
  };
}

/** A canonical URL as it is and, where it names a version, also without (R4 references, canonical: any version matches). */
function versionsOf(canonical: string): readonly string[] {
  const bar = canonical.indexOf('|');
  return bar < 1 ? [canonical] : [canonical, canonical.slice(0, bar)];
}

/** Quantities; one that a composite asks for beside a code of its element keeps the codes there. */
function quantityRules(
  { code, paths }: ValueParameter & { readonly kind: 'quantity' },
  type: ResourceType,
): readonly Rule[] {
  const place = quantityPlaceOf(code, type);
  if (place === undefined)
    return paths.map(({ steps, datatype }) => ({ steps, read: quantityRule(code, datatype) }));
  const codes = codesWithin(place.steps, place.parts[0], type);
  const walks = paths.map(({ steps, datatype }) => {
    const read = quantityReaders[datatype];
    return compileWalk<CodedPlace>(steps.slice(place.steps.length), (node, { found, spot }) => {
      const quantity = read(node, spot);
      if (quantity !== undefined) found.quantities.push(quantity);
    });
  });
  const read: Walk<Found> = (node, found) => {
    const beside = codes(node);
    const spot = beside.length === 0 ? { parameter: code } : { parameter: code, codes: beside };
    for (const walk of walks) walk(node, { found, spot });
  };
  return [{ steps: place.steps, read }];
}

/** An element with its codes, and what is gathered. */
interface CodedPlace {
  readonly found: Found;
  readonly spot: Spot;
}

function quantityRule(parameter: string, datatype: DatatypeOf<'quantity'>): Walk<Found> {
  const read = quantityReaders[datatype];
  const spot = { parameter };
  return (node, found) => {
    const quantity = read(node, spot);
    if (quantity !== undefined) found.quantities.push(quantity);
  };
}

function quantityPlaceOf(
  code: string,
  type: ResourceType,
): (CompositePlace & { readonly kind: 'quantity' }) | undefined {
  for (const parameter of searchParameters[type]) {
    for (const place of parameter.kind === 'composite' ? parameter.places : [])
      if (place.kind === 'quantity' && place.parts[1] === code) return place;
  }
  return undefined;
}

/** The pairs that are kept under this composite. */
function pairRules(code: string, places: readonly CompositePlace[], type: ResourceType): readonly Rule[] {
  return places.flatMap((place) => {
    if (place.kind !== 'pair' || place.parameter !== code) return [];
    const [firsts, seconds] = place.parts.map((part) => codesWithin(place.steps, part, type));
    const read: Walk<Found> = (node, found) => {
      for (const first of firsts?.(node) ?? []) {
        for (const second of seconds?.(node) ?? []) found.pairs.push({ parameter: code, first, second });
      }
    };
    return [{ steps: place.steps, read }];
  });
}

/** Reads the codes that a parameter finds within one element, words alone left out. */
function codesWithin(
  steps: readonly Step[],
  code: string,
  type: ResourceType,
): (node: unknown) => readonly CodeValue[] {
  const parameter = findSearchParameter(type, code);
  const paths = parameter?.kind === 'token' ? parameter.paths : [];
  const walks = paths
    .filter((path) => startsWith(path, steps))
    .map((path) => {
      const read = tokenReaderOf(path);
      return compileWalk<CodeValue[]>(path.steps.slice(steps.length), (node, codes) => {
        for (const value of read(node)) if (value.code !== WORDS_ALONE) codes.push(value);
      });
    });
  return (node) => {
    const codes: CodeValue[] = [];
    for (const walk of walks) walk(node, codes);
    return codes;
  };
}

type TokenReader = (node: unknown) => readonly CodeValue[];
type Range = Omit<DateValue, 'parameter'>;

/** R4 search, token: the system of a boolean. */
const BOOLEAN_SYSTEM = 'http://terminology.hl7.org/CodeSystem/special-values';

/** R4 search, token: which part of each datatype is the system and which the code. */
function tokenReaderOf(path: PathOf<'token'>): TokenReader {
  switch (path.datatype) {
    case 'code':
      return readBare(systemOf(path));
    case 'id':
    case 'string':
      return readBare(undefined);
    case 'boolean':
      return (node) => (typeof node === 'boolean' ? [{ system: BOOLEAN_SYSTEM, code: String(node) }] : []);
    case 'Coding':
      return (node) => readSystemAnd(node, 'code');
    case 'CodeableConcept':
      return readConcept;
    case 'Identifier':
      return (node) => readSystemAnd(node, 'value');
    case 'ContactPoint':
      // A contact's system (phone, email) is no code system.
      return (node) => readBare(undefined)(memberOf(node, 'value'));
  }
}

function readBare(system: string | undefined): TokenReader {
  return (node) => (typeof node === 'string' ? [codeValue(system, node)] : []);
}

/** The system of a `code`, which FHIR fixes by the element's binding. */
function systemOf({ element }: SearchPath): string | undefined {
  const bound = r4Definitions.valueSets.find(({ url }) => url === element?.binding);
  return bound?.include.length === 1 ? bound.include[0]?.system : undefined;
}

function readConcept(node: unknown): readonly CodeValue[] {
  const codes: CodeValue[] = [];
  for (const coding of listOf(node, 'coding')) codes.push(...readSystemAnd(coding, 'code'));
  if (codes.length === 0 && textOf(node, 'text') !== undefined) codes.push({ code: WORDS_ALONE });
  return codes;
}

function readSystemAnd(node: unknown, part: 'code' | 'value'): readonly CodeValue[] {
  const code = textOf(node, part);
  return code === undefined ? [] : [codeValue(textOf(node, 'system'), code)];
}

function codeValue(system: string | undefined, code: string): CodeValue {
  return system === undefined ? { code } : { system, code };
}

/** Datatypes that words stand beside the code in. */
export const WITH_TEXTS: ReadonlySet<string> = new Set(['Coding', 'CodeableConcept', 'Identifier']);

/** R4 search, token, `:text`: CodeableConcept.text, Coding.display, Identifier.type.text; each once. */
function textsBeside(node: unknown): readonly string[] {
  const texts = textsOf(node, ['text', 'display']);
  for (const coding of listOf(node, 'coding')) {
    const display = textOf(coding, 'display');
    if (display !== undefined && !texts.includes(display)) texts.push(display);
  }
  const kind = textOf(memberOf(node, 'type'), 'text');
  return kind === undefined ? texts : [...texts, kind];
}

/** R4 search, string: any part of a name or an address may match. */
const stringReaders: Readonly<Record<DatatypeOf<'string'>, (node: unknown) => readonly string[]>> = {
  string: (node) => (typeof node === 'string' ? [node] : []),
  HumanName: (node) => textsOf(node, ['text', 'family', 'given', 'prefix', 'suffix']),
  Address: (node) => textsOf(node, ['text', 'line', 'city', 'district', 'state', 'postalCode', 'country']),
};

function readReferenceValue(node: unknown, parameter: string, baseUrl: string): ReferenceValue | undefined {
  const text = textOf(node, 'reference');
  const target = text === undefined ? undefined : readTarget(text, baseUrl);
  const identifier = readBusinessIdentifier(memberOf(node, 'identifier'));
  if (target === undefined && identifier === undefined) return undefined;
  const reference: Mutable<ReferenceValue> = { parameter };
  const type = target?.type ?? textOf(node, 'type');
  if (type !== undefined) reference.type = type;
  if (target !== undefined && 'id' in target) reference.id = target.id;
  if (target !== undefined && 'url' in target) reference.url = target.url;
  if (identifier !== undefined) reference.identifier = identifier;
  return reference;
}

function readBusinessIdentifier(node: unknown): ReferenceValue['identifier'] | undefined {
  const [system, value] = [textOf(node, 'system'), textOf(node, 'value')];
  if (value === undefined) return undefined;
  return system === undefined ? { value } : { system, value };
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

/** Where a quantity is found. */
type Spot = Pick<QuantityValue, 'parameter' | 'codes'>;

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

type QuantityReader = (node: unknown, spot: Spot) => QuantityValue | undefined;

const quantityReaders: Readonly<Record<DatatypeOf<'quantity'>, QuantityReader>> = {
  Quantity: readQuantity,
  Age: readQuantity,
  Duration: readQuantity,
  Range: readRange,
  SampledData: readSampledData,
};

function readQuantity(node: unknown, spot: Spot): QuantityValue | undefined {
  const value = numberOf(node, 'value');
  return value === undefined ? undefined : quantityOf(value, textOf(node, 'comparator'), node, spot);
}

/** The value with the unit of `node`. Members are set one by one: this runs at each write. */
function quantityOf(
  value: number,
  comparator: string | undefined,
  node: unknown,
  spot: Spot,
): Mutable<QuantityValue> {
  const quantity: Mutable<QuantityValue> = { parameter: spot.parameter, value };
  if (comparator !== undefined) quantity.comparator = comparator;
  const [system, code, unit] = [textOf(node, 'system'), textOf(node, 'code'), textOf(node, 'unit')];
  if (system !== undefined) quantity.system = system;
  if (code !== undefined) quantity.code = code;
  if (unit !== undefined) quantity.unit = unit;
  if (spot.codes !== undefined) quantity.codes = spot.codes;
  return quantity;
}

/** Both ends are included; a missing one is open. */
function readRange(node: unknown, spot: Spot): QuantityValue | undefined {
  const [low, high] = [memberOf(node, 'low'), memberOf(node, 'high')];
  const [from, to] = [numberOf(low, 'value'), numberOf(high, 'value')];
  if (from === undefined) return to === undefined ? undefined : quantityOf(to, '<=', high, spot);
  if (to === undefined) return quantityOf(from, '>=', low, spot);
  return { ...quantityOf(from, undefined, low, spot), high: to };
}

/** R4 Observation, `value-quantity`: of SampledData "just search on the bounds of the values". */
function readSampledData(node: unknown, spot: Spot): QuantityValue | undefined {
  const origin = memberOf(node, 'origin');
  const zero = numberOf(origin, 'value');
  if (zero === undefined) return undefined;
  const factor = numberOf(node, 'factor') ?? 1;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const sample of (textOf(node, 'data') ?? '').split(' ')) {
    const value = zero + factor * sampleOf(sample, node);
    if (!Number.isFinite(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return low > high ? undefined : { ...quantityOf(low, undefined, origin, spot), high };
}

/** R4 SampledData.data: a decimal, `U` or `L` beyond the limits, `E` an error. */
function sampleOf(sample: string, node: unknown): number {
  if (sample === 'L') return numberOf(node, 'lowerLimit') ?? Number.NaN;
  if (sample === 'U') return numberOf(node, 'upperLimit') ?? Number.NaN;
  return sample === '' ? Number.NaN : Number(sample);
}

/** A number, of a document whose digits were kept as well. */
function numberOf(node: unknown, name: string): number | undefined {
  const value = memberOf(node, name);
  const number = isLosslessNumber(value) ? Number(value.value) : value;
  return typeof number === 'number' && Number.isFinite(number) ? number : undefined;
}

function textOf(node: unknown, name: string): string | undefined {
  const value = memberOf(node, name);
  return typeof value === 'string' ? value : undefined;
}

function listOf(node: unknown, name: string): readonly unknown[] {
  const value = memberOf(node, name);
  return Array.isArray(value) ? (value as readonly unknown[]) : [];
}

/** The texts of these members, one or several each. */
function textsOf(node: unknown, names: readonly string[]): string[] {
  const texts: string[] = [];
  for (const name of names) visitItems(memberOf(node, name), pushText, texts);
  return texts;
}

const pushText: Walk<string[]> = (node, texts) => {
  if (typeof node === 'string') texts.push(node);
};
