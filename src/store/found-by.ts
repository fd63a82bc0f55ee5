import type { SearchValues } from '../fhir/index.js';
import type { Database } from './database.js';
import { fit } from './dictionary.js';
import type { TokenKey } from './dictionary.js';
import type { Point } from './point.js';

/** What the rows of one resource's version hold beside its body, with all words already numbered. */
export interface FoundBy {
  /** Ascending, each once. */
  readonly tokens: readonly number[];
  readonly patient: number | null;
  readonly concept: number | null;
  readonly dateLow: number;
  readonly dateHigh: number | null;
  readonly dates: readonly { readonly parameter: number; readonly low: number; readonly high: number }[];
  readonly strings: readonly {
    readonly parameter: number;
    readonly folded: string;
    readonly exact: string;
  }[];
  readonly quantities: readonly QuantityRow[];
  readonly uris: readonly { readonly parameter: number; readonly uri: string }[];
  readonly rare: readonly { readonly field: number; readonly value: string }[];
  readonly points: readonly (Point & { readonly series: number })[];
}

export interface QuantityRow {
  readonly parameter: number;
  readonly unit: number | null;
  readonly value: number;
  readonly comparator: string | null;
}

/** Milliseconds before and after every date, for a range that is open there (Date's limits are 8.64e15). */
export const EARLIEST = -9_000_000_000_000_000;
export const LATEST = 9_000_000_000_000_000;

/** Stands in `date_low` of a resource without a date, so that it sorts before all others. */
export const NO_DATE = EARLIEST - 1;

/** The parameter whose range is kept in the row itself. */
export const MAIN_DATE = 'date';

/** The parameters that the indexes of the resource table begin with. */
export const PATIENT = 'patient';
export const CONCEPT = 'code';

/** Versions with these statuses measure nothing. */
const WITHDRAWN: ReadonlySet<string> = new Set(['entered-in-error', 'cancelled']);

/** Token parameters whose values are nearly all different: kept with their row, not in the dictionary. */
const RARE_PARAMETERS: ReadonlySet<string> = new Set(['identifier', 'telecom', 'phone', 'email']);

/** Types that many resources refer to; a reference to any other is rare like an identifier. */
const SHARED_TARGETS: ReadonlySet<string> = new Set([
  ...['Patient', 'Group', 'Encounter', 'EpisodeOfCare', 'Location', 'Organization', 'CareTeam', 'Device'],
  ...['Practitioner', 'PractitionerRole', 'RelatedPerson'],
]);

/** Whether the codes of a parameter are kept with their rows. */
export function isRareCode(parameter: string): boolean {
  return RARE_PARAMETERS.has(parameter);
}

/** Whether references to a type (undefined: elsewhere) are kept with their rows. */
export function isRareTarget(type: string | undefined): boolean {
  return type === undefined || !SHARED_TARGETS.has(type);
}

/** A rare value: its field is a token of kind `present`, of the parameter with a system or type. */
export interface RareValue {
  readonly field: TokenKey;
  readonly value: string;
}

export function rareCode(parameter: string, system: string, code: string): RareValue {
  return { field: { kind: 'present', parameter, system, code: '' }, value: fit(code) };
}

export function rareReference(value: {
  readonly parameter: string;
  readonly type?: string;
  readonly id?: string;
  readonly url?: string;
}): RareValue {
  const { parameter, system, code } = referenceKey(value);
  return rareCode(parameter, system, code);
}

function rareValuesOf({ tokens, references }: SearchValues): readonly RareValue[] {
  return [
    ...tokens
      .filter(({ parameter }) => isRareCode(parameter))
      .map(({ parameter, system = '', code }) => rareCode(parameter, system, code)),
    ...references
      .filter(isNamed)
      .filter(({ type }) => isRareTarget(type))
      .map(rareReference),
  ];
}

/** Whether a reference says where it points, by id or address. */
const isNamed = ({ id, url }: { readonly id?: string; readonly url?: string }): boolean =>
  id !== undefined || url !== undefined;

/** Nothing: what a deleted resource is found by. */
export const NOTHING: FoundBy = {
  tokens: [],
  patient: null,
  concept: null,
  dateLow: NO_DATE,
  dateHigh: null,
  dates: [],
  strings: [],
  quantities: [],
  uris: [],
  rare: [],
  points: [],
};

/** Draws from each resource what it is found by, numbering all words of all of them in a few statements. */
export async function drawAll(db: Database, resources: readonly unknown[]): Promise<readonly FoundBy[]> {
  const drawn = resources.map((resource) => {
    const values = db.extractors.searchValues(resource);
    const points = db.extractors.points(resource).filter(({ status }) => !WITHDRAWN.has(status));
    return { values, points, keys: tokenKeysOf(values) };
  });
  const keys = drawn.flatMap((one) => one.keys);
  const numbers = await db.dictionary.internTokens(keys);
  const series = await db.dictionary.internSeries(drawn.flatMap((one) => one.points));
  const numberOf = new Map(keys.map((key, place) => [textOf(key), numbers[place] ?? 0]));
  const found = drawn.map(({ values, keys: own }) => rowsOf(values, own, numberOf));
  const concepts = await numberConcepts(
    db,
    found.map(({ codes }) => codes),
  );
  let place = 0;
  return found.map(({ rows }, index) => ({
    ...rows,
    concept: concepts[index] ?? null,
    points: (drawn[index]?.points ?? []).map((point) => ({ ...point, series: series[place++] ?? 0 })),
  }));
}

async function numberConcepts(
  db: Database,
  sets: readonly (readonly number[])[],
): Promise<readonly (number | null)[]> {
  const kept = sets.filter((set) => set.length > 0);
  const numbers = await db.dictionary.internConcepts(kept);
  let place = 0;
  return sets.map((set) => (set.length > 0 ? (numbers[place++] ?? null) : null));
}

function rowsOf(
  values: SearchValues,
  own: readonly TokenKey[],
  numberOf: ReadonlyMap<string, number>,
): { readonly rows: Omit<FoundBy, 'concept' | 'points'>; readonly codes: readonly number[] } {
  const number = (key: TokenKey): number => numberOf.get(textOf(key)) ?? 0;
  const parameter = (name: string): number => number(presence(name));
  const patient = values.references.find((value) => value.parameter === PATIENT && value.type === 'Patient');
  const main = values.dates.filter((value) => value.parameter === MAIN_DATE);
  const codes = own.filter((key) => key.kind === 'coded' && key.parameter === CONCEPT).map(number);
  const rows = {
    tokens: ascending(own.map(number)),
    rare: rareValuesOf(values).map(({ field, value }) => ({ field: number(field), value })),
    patient: patient === undefined ? null : number(referenceKey(patient)),
    dateLow: main.length === 0 ? NO_DATE : Math.min(...main.map(({ low }) => low ?? EARLIEST)),
    dateHigh: main.length === 0 ? null : Math.max(...main.map(({ high }) => high ?? LATEST)),
    dates: values.dates
      .filter((value) => value.parameter !== MAIN_DATE)
      .map((value) => ({
        parameter: parameter(value.parameter),
        low: value.low ?? EARLIEST,
        high: value.high ?? LATEST,
      })),
    strings: values.strings.map((value) => {
      const exact = withoutNul(value.text);
      return { parameter: parameter(value.parameter), folded: fold(exact), exact };
    }),
    quantities: values.quantities.map((value) => ({
      parameter: parameter(value.parameter),
      unit: value.code === undefined && value.unit === undefined ? null : number(unitKey(value)),
      value: value.value,
      comparator: value.comparator ?? null,
    })),
    uris: values.uris.map((value) => ({
      parameter: parameter(value.parameter),
      uri: withoutNul(value.uri),
    })),
  };
  return { rows, codes: ascending(codes) };
}

function tokenKeysOf(values: SearchValues): readonly TokenKey[] {
  const lists: readonly (readonly { readonly parameter: string }[])[] = Object.values(values);
  const parameters = new Set(lists.flat().map(({ parameter }) => parameter));
  return [
    ...values.tokens
      .filter(({ parameter }) => !isRareCode(parameter))
      .map(({ parameter, system = '', code }) => codedKey(parameter, system, code)),
    ...values.references
      .filter(isNamed)
      .filter(({ type }) => !isRareTarget(type))
      .map(referenceKey),
    ...rareValuesOf(values).map(({ field }) => field),
    ...values.references.flatMap(({ parameter, identifier }) =>
      identifier === undefined
        ? []
        : [codedKey(`${parameter}:identifier`, identifier.system ?? '', identifier.value)],
    ),
    ...values.quantities.flatMap((value) =>
      value.code === undefined && value.unit === undefined ? [] : [unitKey(value)],
    ),
    ...[...parameters].map(presence),
  ];
}

/** A code of a parameter; `system` is empty for a code without one. */
export function codedKey(parameter: string, system: string, code: string): TokenKey {
  return { kind: 'coded', parameter, system, code };
}

/** A reference by type and id on this base, or by its address elsewhere. */
export function referenceKey(value: {
  readonly parameter: string;
  readonly type?: string;
  readonly id?: string;
  readonly url?: string;
}): TokenKey {
  const { parameter, type, id, url } = value;
  if (id === undefined) return { kind: 'reference', parameter, system: 'url', code: url ?? '' };
  return { kind: 'reference', parameter, system: type ?? '', code: id };
}

/** The presence of a parameter; its number also stands for the parameter. */
export function presence(parameter: string): TokenKey {
  return { kind: 'present', parameter, system: '', code: '' };
}

function unitKey(value: {
  readonly parameter: string;
  readonly system?: string;
  readonly code?: string;
  readonly unit?: string;
}): TokenKey {
  return codedKey(`${value.parameter}:unit`, value.system ?? '', value.code ?? value.unit ?? '');
}

/** A text without case and combining marks (R4 search, string), white space made single. */
export function fold(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().replace(/\s+/gu, ' ').trim();
}

/** PostgreSQL's text holds no NUL. */
export function withoutNul(text: string): string {
  return text.replaceAll('\0', '\uFFFD');
}

function textOf({ kind, parameter, system, code }: TokenKey): string {
  return [kind, parameter, system, code].join('\0');
}

function ascending(numbers: readonly number[]): readonly number[] {
  return [...new Set(numbers)].sort((one, other) => one - other);
}
