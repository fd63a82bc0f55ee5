import { sql } from 'kysely';
import type { RawBuilder } from 'kysely';
import type { DateMatch, ReferenceMatch, SearchClause, SearchQuery, TokenMatch } from '../fhir/index.js';
import { run } from './database.js';
import type { Connection } from './database.js';
import { fit } from './dictionary.js';
import type { TokenKey } from './dictionary.js';
import {
  CONCEPT,
  EARLIEST,
  LATEST,
  MAIN_DATE,
  NO_DATE,
  PATIENT,
  codedKey,
  fold,
  isRareCode,
  isRareTarget,
  presence,
  referenceKey,
  withoutNul,
} from './found-by.js';
import { StoreRefusal } from './refusal.js';
import { versionOf } from './resources.js';
import type { StoredVersion, VersionRow } from './resources.js';

/** One page of a search. */
export interface SearchPage {
  readonly matches: readonly StoredVersion[];
  /** Opaque place after which the next page starts; absent on the last page. */
  readonly next?: string;
}

/**
 * Finds present versions, deleted ones never. Pages follow each other by the values of the last match, not by a count
 * of rows, so that writes between two pages neither repeat nor skip a resource that stays as it was.
 * A sort key that is no date sorts nothing; a cursor that is not of this sort is refused.
 */
export async function search(db: Connection, query: SearchQuery): Promise<SearchPage> {
  const where = await conditionsOf(db, query);
  if (where === undefined) return { matches: [] };
  const keys = await sortKeysOf(db, query);
  const after = query.after === undefined ? [] : [afterCursor(keys, query.after)];
  const values = keys.map(({ expression }, place) => sql`${expression} as ${sql.ref(`sort${place}`)}`);
  const order = keys.map(
    ({ expression, descending }) => sql`${expression} ${sql.raw(descending ? 'desc' : 'asc')}`,
  );
  const rows = await run<SearchRow>(
    db,
    sql<SearchRow>`select type, id, version, last_updated, operation, encoding, body, ${sql.join(values)}
      from resource where ${sql.join([...where, ...after], sql` and `)}
      order by ${sql.join(order)} limit ${query.count + 1}`,
  );
  const matches = rows.slice(0, query.count);
  const last = matches.at(-1);
  const page = { matches: matches.map(versionOf) };
  return last === undefined || rows.length <= query.count ? page : { ...page, next: cursorOf(keys, last) };
}

/** How many resources match, whatever the page. */
export async function countMatches(db: Connection, query: SearchQuery): Promise<number> {
  const where = await conditionsOf(db, query);
  if (where === undefined) return 0;
  const [row] = await run(
    db,
    sql<{ count: number }>`select count(*) as count from resource where ${sql.join(where, sql` and `)}`,
  );
  return row?.count ?? 0;
}

type Condition = RawBuilder<unknown>;

type SearchRow = VersionRow & Readonly<Record<`sort${number}`, unknown>>;

/** All conditions of the query; undefined when a clause names what no resource was ever found by. */
async function conditionsOf(db: Connection, query: SearchQuery): Promise<readonly Condition[] | undefined> {
  const conditions: Condition[] = [sql`type = ${query.type}`, sql`operation <> 'delete'`];
  for (const clause of query.clauses) {
    const condition = await conditionOf(db, query.type, clause);
    if (condition === undefined) return undefined;
    conditions.push(condition);
  }
  return conditions;
}

/** The condition of one clause; undefined when nothing can match it. */
async function conditionOf(
  db: Connection,
  type: string,
  clause: SearchClause,
): Promise<Condition | undefined> {
  switch (clause.kind) {
    case 'id':
      return sql`id = any(${clause.ids.map(withoutNul)}::text[])`;
    case 'token':
      return tokenCondition(db, clause.parameter, clause.values, clause.not === true);
    case 'reference':
      return referenceCondition(db, type, clause.parameter, clause.values);
    case 'date':
      return dateCondition(db, clause.parameter, clause.values);
    case 'string':
      return stringCondition(db, clause);
    case 'missing':
      return missingCondition(db, clause.parameter, clause.missing);
    case 'any':
      return anyCondition(db, type, clause.of);
    case 'none':
      return noneCondition(db, type, clause.of);
    case 'text':
    case 'quantity':
    case 'uri':
    case 'pair':
    case 'chain':
    case 'has':
      throw new RangeError(`no condition for a clause of kind ${clause.kind}`);
  }
}

async function anyCondition(
  db: Connection,
  type: string,
  alternatives: readonly (readonly SearchClause[])[],
): Promise<Condition | undefined> {
  const any: Condition[] = [];
  for (const clauses of alternatives) {
    const all: (Condition | undefined)[] = [];
    for (const clause of clauses) all.push(await conditionOf(db, type, clause));
    const possible = all.filter((condition) => condition !== undefined);
    if (possible.length === all.length) any.push(sql`(${sql.join(possible, sql` and `)})`);
  }
  return any.length === 0 ? undefined : sql`(${sql.join(any, sql` or `)})`;
}

async function noneCondition(
  db: Connection,
  type: string,
  clauses: readonly SearchClause[],
): Promise<Condition> {
  const any = await anyCondition(
    db,
    type,
    clauses.map((clause) => [clause]),
  );
  return any === undefined ? sql`true` : sql`not coalesce(${any}, false)`;
}

async function tokenCondition(
  db: Connection,
  parameter: string,
  values: readonly TokenMatch[],
  not: boolean,
): Promise<Condition | undefined> {
  if (isRareCode(parameter)) {
    const condition = await rareCondition(db, parameter, values);
    if (not) return condition === undefined ? sql`true` : sql`not ${condition}`;
    return condition;
  }
  const numbers = await findCoded(db, parameter, values);
  if (not) return numbers.length === 0 ? sql`true` : sql`not tokens && ${numbers}::int[]`;
  if (numbers.length === 0) return undefined;
  return parameter === CONCEPT ? conceptCondition(db, numbers) : holdsAny(numbers);
}

/** One number as a containment, which the planner estimates well. */
function holdsAny(numbers: readonly number[]): Condition {
  return numbers.length === 1 ? sql`tokens @> ${numbers}::int[]` : sql`tokens && ${numbers}::int[]`;
}

/** The row's concept is the set of its codes, so a code means one of few concepts: an equality the indexes begin with. */
async function conceptCondition(db: Connection, codes: readonly number[]): Promise<Condition | undefined> {
  const rows = await db.query<{ id: number }>({
    name: 'concepts-of-codes',
    text: 'select id from concept where tokens && $1::int[]',
    values: [codes],
  });
  return equalsAny(
    'concept',
    rows.map(({ id }) => id),
  );
}

function equalsAny(column: 'concept' | 'patient', numbers: readonly number[]): Condition | undefined {
  const [only] = numbers;
  if (only === undefined) return undefined;
  return numbers.length === 1
    ? sql`${sql.ref(column)} = ${only}`
    : sql`${sql.ref(column)} = any(${numbers}::int[])`;
}

async function findCoded(
  db: Connection,
  parameter: string,
  values: readonly TokenMatch[],
): Promise<readonly number[]> {
  const exact: TokenKey[] = [];
  const open: TokenMatch[] = [];
  for (const value of values) {
    const { system, code } = value;
    if (system === undefined || code === undefined) open.push(value);
    else exact.push(codedKey(parameter, system ?? '', code));
  }
  const found = (await db.database.dictionary.findTokens(exact)).filter((number) => number !== undefined);
  for (const { system, code } of open)
    found.push(...(await findOpen(db, 'coded', parameter, code, system ?? undefined)));
  return [...new Set(found)];
}

/** Numbers of the tokens of a parameter, where the code or the system is left open. */
async function findOpen(
  db: Connection,
  kind: TokenKey['kind'],
  parameter: string,
  code: string | undefined,
  system: string | undefined,
): Promise<readonly number[]> {
  const rows = await db.query<{ id: number }>({
    text: `select id from token where kind = $1 and parameter = $2 and ($3::text is null or code = $3)
           and ($4::text is null or system = $4) and system <> 'url'`,
    values: [
      kind,
      parameter,
      code === undefined ? null : withoutNul(code),
      system === undefined ? null : withoutNul(system),
    ],
  });
  return rows.map(({ id }) => id);
}

/** Types of which the standard allows one patient only (R4: subject 0..1), so that the column says all. */
const OF_ONE_PATIENT: ReadonlySet<string> = new Set(['Observation', 'Encounter']);

async function referenceCondition(
  db: Connection,
  type: string,
  parameter: string,
  values: readonly ReferenceMatch[],
): Promise<Condition | undefined> {
  const numbers: number[] = [];
  const rare: TokenMatch[] = [];
  for (const value of values) {
    const { type: target, id, url } = value;
    if (id !== undefined && target === undefined) {
      numbers.push(...(await findOpen(db, 'reference', parameter, id, undefined)));
      rare.push({ code: id });
    } else if (isRareTarget(target)) rare.push({ system: target ?? 'url', code: id ?? url ?? '' });
    else {
      const [number] = await db.database.dictionary.findTokens([referenceKey({ parameter, ...value })]);
      if (number !== undefined) numbers.push(number);
    }
  }
  const ofPatient = parameter === PATIENT && OF_ONE_PATIENT.has(type);
  const shared = ofPatient ? equalsAny('patient', numbers) : holdsAnyOf(numbers);
  return eitherOf(shared, await rareCondition(db, parameter, rare));
}

function holdsAnyOf(numbers: readonly number[]): Condition | undefined {
  return numbers.length === 0 ? undefined : holdsAny(numbers);
}

/** One condition or the other; undefined is one that nothing can match. */
function eitherOf(one: Condition | undefined, other: Condition | undefined): Condition | undefined {
  return one === undefined || other === undefined ? (one ?? other) : sql`(${one} or ${other})`;
}

/** Values kept with their rows: identifiers, and references to single resources. */
async function rareCondition(
  db: Connection,
  parameter: string,
  values: readonly TokenMatch[],
): Promise<Condition | undefined> {
  const any: Condition[] = [];
  for (const { system, code } of values) {
    const fields = await findFields(db, parameter, system);
    if (fields.length === 0) continue;
    const ofField = sql`field = any(${fields}::int[])`;
    any.push(code === undefined ? ofField : sql`(value = ${fit(code)} and ${ofField})`);
  }
  if (any.length === 0) return undefined;
  return sql`exists (select from search_rare where search_rare.key = resource.key and (${sql.join(any, sql` or `)}))`;
}

/** The fields of a parameter: of one system (null: of none), or of all. */
async function findFields(
  db: Connection,
  parameter: string,
  system: string | null | undefined,
): Promise<readonly number[]> {
  if (system === undefined) return findOpen(db, 'present', parameter, '', undefined);
  const key: TokenKey = { kind: 'present', parameter, system: system ?? '', code: '' };
  return (await db.database.dictionary.findTokens([key])).filter((number) => number !== undefined);
}

async function dateCondition(
  db: Connection,
  parameter: string,
  values: readonly DateMatch[],
): Promise<Condition | undefined> {
  if (parameter === LAST_UPDATED) return sql`(${sql.join(values.map(updatedCondition), sql` or `)})`;
  if (parameter === MAIN_DATE) {
    const any = values.map((match) => rangeCondition(match, sql.ref('date_low'), sql.ref('date_high')));
    return sql`date_high is not null and (${sql.join(any, sql` or `)})`;
  }
  const number = await findParameter(db, parameter);
  if (number === undefined) return undefined;
  const any = values.map((match) => rangeCondition(match, sql.ref('low'), sql.ref('high')));
  return sql`exists (select from search_date where search_date.key = resource.key and parameter = ${number}
                     and (${sql.join(any, sql` or `)}))`;
}

/**
 * Whether the target range T of a resource matches the search range S (R4 search, prefixes). Both are half open, so
 * that "S contains T" and "T reaches beyond S" are plain comparisons of their ends.
 */
function rangeCondition(
  { prefix, low: from, high: to }: DateMatch,
  low: Condition,
  high: Condition,
): Condition {
  const start = within(from);
  const end = Math.max(within(to), start + 1);
  switch (prefix) {
    case 'eq':
      return sql`(${low} >= ${start} and ${high} <= ${end})`;
    case 'ne':
      return sql`(${low} < ${start} or ${high} > ${end})`;
    case 'gt':
      return sql`${high} > ${end}`;
    case 'lt':
      return sql`${low} < ${start}`;
    case 'ge':
      return sql`(${low} >= ${start} or ${high} > ${end})`;
    case 'le':
      return sql`(${high} <= ${end} or ${low} < ${start})`;
    case 'sa':
      return sql`${low} >= ${end}`;
    case 'eb':
      return sql`${high} <= ${start}`;
    case 'ap':
      return sql`(${low} < ${end} and ${high} > ${start})`;
  }
}

/** The same for an instant of a millisecond, written so that its index serves. */
function updatedCondition({ prefix, low, high }: DateMatch): Condition {
  const [start, end] = [momentOf(low), momentOf(Math.max(high, low + 1))];
  switch (prefix) {
    case 'eq':
    case 'ap':
      return sql`(last_updated >= ${start} and last_updated < ${end})`;
    case 'ne':
      return sql`(last_updated < ${start} or last_updated >= ${end})`;
    case 'gt':
    case 'sa':
      return sql`last_updated >= ${end}`;
    case 'lt':
    case 'eb':
      return sql`last_updated < ${start}`;
    case 'ge':
      return sql`last_updated >= ${start}`;
    case 'le':
      return sql`last_updated < ${end}`;
  }
}

const LAST_UPDATED = '_lastUpdated';

const within = (ms: number): number => Math.min(Math.max(Math.round(ms), EARLIEST), LATEST);

/** Every moment of the record lies within these years; the database knows no such early years as a Date does. */
function momentOf(ms: number): Date {
  return new Date(Math.min(Math.max(ms, Date.UTC(1900, 0, 1)), Date.UTC(9999, 0, 1)));
}

async function stringCondition(
  db: Connection,
  { parameter, how, values }: SearchClause & { readonly kind: 'string' },
): Promise<Condition | undefined> {
  const number = await findParameter(db, parameter);
  if (number === undefined) return undefined;
  const any = values.map((value) => textCondition(how, withoutNul(value)));
  return sql`exists (select from search_string where search_string.key = resource.key and parameter = ${number}
                     and (${sql.join(any, sql` or `)}))`;
}

/** R4 search, string. The index holds the first hundred characters of the folded text. */
function textCondition(how: 'starts' | 'contains' | 'exact', value: string): Condition {
  const folded = fold(value);
  const start = folded.slice(0, INDEXED_START);
  switch (how) {
    case 'starts':
      return sql`(left(folded, ${sql.lit(INDEXED_START)}) like ${`${likeText(start)}%`} and folded like ${`${likeText(folded)}%`})`;
    case 'contains':
      return sql`folded like ${`%${likeText(folded)}%`}`;
    case 'exact':
      return sql`(left(folded, ${sql.lit(INDEXED_START)}) = ${start} and exact = ${value})`;
  }
}

const INDEXED_START = 100;

/** A text that stands for itself in a pattern of LIKE. */
const likeText = (text: string): string => text.replace(/[\\%_]/g, '\\$&');

async function missingCondition(
  db: Connection,
  parameter: string,
  missing: boolean,
): Promise<Condition | undefined> {
  const number = await findParameter(db, parameter);
  if (number === undefined) return missing ? sql`true` : undefined;
  return missing ? sql`not tokens @> ${[number]}::int[]` : holdsAny([number]);
}

/** The number of a parameter that some resource was found by. */
async function findParameter(db: Connection, parameter: string): Promise<number | undefined> {
  const [number] = await db.database.dictionary.findTokens([presence(parameter)]);
  return number;
}

/** One key of the order, the last one being the row's own number, which makes the order total. */
interface SortKey {
  readonly parameter: string;
  readonly expression: Condition;
  readonly descending: boolean;
  /** SQL type of its value in a cursor. */
  readonly type: 'timestamptz' | 'text' | 'bigint';
}

async function sortKeysOf(db: Connection, query: SearchQuery): Promise<readonly SortKey[]> {
  const asked = query.sort.length === 0 ? NEWEST_CHANGE_FIRST : query.sort;
  const keys: SortKey[] = [];
  for (const { parameter, descending } of asked) keys.push(await sortKeyOf(db, parameter, descending));
  const descending = keys.at(-1)?.descending ?? true;
  return [...keys, { parameter: 'key', expression: sql.ref('key'), descending, type: 'bigint' }];
}

/** No entry of the dictionary has it: what no resource has is missing from all alike. */
const NO_NUMBER = 0;

const NEWEST_CHANGE_FIRST = [{ parameter: LAST_UPDATED, descending: true }] as const;

async function sortKeyOf(db: Connection, parameter: string, descending: boolean): Promise<SortKey> {
  const column = SORT_COLUMNS.get(parameter);
  if (column !== undefined) {
    return { parameter, descending, expression: sql.ref(column.column), type: column.type };
  }
  const number = (await findParameter(db, parameter)) ?? NO_NUMBER;
  const expression = sql`coalesce((select min(low) from search_date
    where search_date.key = resource.key and parameter = ${number}), ${sql.lit(NO_DATE)})`;
  return { parameter, descending, expression, type: 'bigint' };
}

/** Ascending by the start of the range; what has no date comes before all others. */
const SORT_COLUMNS: ReadonlyMap<string, Pick<SortKey, 'type'> & { readonly column: string }> = new Map([
  [LAST_UPDATED, { column: 'last_updated', type: 'timestamptz' }],
  ['_id', { column: 'id', type: 'text' }],
  [MAIN_DATE, { column: 'date_low', type: 'bigint' }],
]);

/** The values of the last row, for the next page to go on from. */
function cursorOf(keys: readonly SortKey[], row: SearchRow): string {
  const values = keys.map((_, place) => {
    const value = row[`sort${place}`];
    return value instanceof Date ? value.toISOString() : value;
  });
  return Buffer.from(JSON.stringify([orderText(keys), ...values])).toString('base64url');
}

function afterCursor(keys: readonly SortKey[], cursor: string): Condition {
  const values = readCursor(keys, cursor);
  const bound = keys.map(({ type }, place) => sql`${values[place]}::${sql.raw(type)}`);
  const [first] = keys;
  if (keys.every(({ descending }) => descending === first?.descending)) {
    const left = sql.join(keys.map(({ expression }) => expression));
    return sql`(${left}) ${sql.raw(first?.descending === true ? '<' : '>')} (${sql.join(bound)})`;
  }
  const alternatives = keys.map(({ expression, descending }, place) => {
    const equal = keys.slice(0, place).map((key, before) => sql`${key.expression} = ${bound[before]}`);
    const beyond = sql`${expression} ${sql.raw(descending ? '<' : '>')} ${bound[place]}`;
    return sql`(${sql.join([...equal, beyond], sql` and `)})`;
  });
  return sql`(${sql.join(alternatives, sql` or `)})`;
}

function readCursor(keys: readonly SortKey[], cursor: string): readonly (string | number)[] {
  const parts = parseCursor(cursor);
  const fits =
    parts?.length === keys.length + 1 &&
    parts[0] === orderText(keys) &&
    keys.every(({ type }, place) => isOfType(type, parts[place + 1]));
  if (fits) return parts.slice(1) as (string | number)[];
  throw new StoreRefusal('bad-cursor', 'The place to go on from is not one that this search gave out.');
}

function parseCursor(cursor: string): readonly unknown[] | undefined {
  try {
    const parts: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
    return Array.isArray(parts) ? parts : undefined;
  } catch {
    return undefined;
  }
}

function isOfType(type: SortKey['type'], value: unknown): boolean {
  switch (type) {
    case 'bigint':
      return Number.isSafeInteger(value);
    case 'text':
      return typeof value === 'string' && !value.includes('\0');
    case 'timestamptz':
      return (
        typeof value === 'string' &&
        /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/.test(value) &&
        !Number.isNaN(Date.parse(value))
      );
  }
}

const orderText = (keys: readonly SortKey[]): string =>
  keys.map(({ parameter, descending }) => `${descending ? '-' : ''}${parameter}`).join(',');
