import { v7 } from 'uuid';
import { stringifyJson } from '../fhir/index.js';
import { decodeBody, encodeBody } from './body.js';
import type { EncodedBody } from './body.js';
import type { Connection, Transaction } from './database.js';
import { NOTHING, drawAll } from './found-by.js';
import type { FoundBy } from './found-by.js';
import { StoreRefusal } from './refusal.js';
import type { Statement } from './statement.js';
import type { Operation } from './tables.js';

/** A FHIR resource as it comes to be written; its id, versionId and lastUpdated are set by the store. */
export interface ResourceContent {
  readonly resourceType: string;
  readonly id?: unknown;
  readonly meta?: unknown;
}

/** One write of `writeResources`. */
export type ResourceWrite =
  | {
      readonly method: 'create';
      readonly type: string;
      readonly id: string;
      readonly resource: ResourceContent;
    }
  | {
      readonly method: 'update';
      readonly type: string;
      readonly id: string;
      readonly resource: ResourceContent;
      /** The version that must be the present one (If-Match). */
      readonly ifVersion?: number;
      /** Refuse when there is a resource that is not deleted (If-None-Match: *). */
      readonly ifAbsent?: boolean;
    }
  | {
      readonly method: 'delete';
      readonly type: string;
      readonly id: string;
      readonly ifVersion?: number;
    };

/** A version of a resource as it is kept. */
export interface StoredVersion {
  readonly type: string;
  readonly id: string;
  /** From 1, without gaps. */
  readonly version: number;
  readonly lastUpdated: Date;
  readonly deleted: boolean;
  readonly operation: Operation;
  /** Compact JSON in UTF-8, as it is to be sent; empty for a deletion. */
  readonly body: Buffer;
}

/** What a write did. */
export interface WrittenVersion extends StoredVersion {
  /** Whether there was no such resource before, or a deleted one. */
  readonly created: boolean;
  /** False when a deleted resource was deleted again: nothing was written. */
  readonly changed: boolean;
}

/** A new time-ordered id (RFC 9562, UUID version 7). */
export function newId(): string {
  return v7();
}

/**
 * Writes resources, all or none: sets id, versionId and lastUpdated, moves what is superseded into the history, and
 * renews what each is found by. An update of an unknown id creates it; an update of a deleted one revives it. Writers
 * of one resource wait for each other. `lastUpdated` rises with each version even when the clock steps back.
 * Refuses with `StoreRefusal`; the answers are in the order of the writes.
 */
export async function writeResources(
  tx: Transaction,
  writes: readonly ResourceWrite[],
  options: { readonly at: Date },
): Promise<readonly WrittenVersion[]> {
  refuseDoubles(writes);
  const drawn = await drawAll(
    tx.database,
    writes.flatMap((write) => (write.method === 'delete' ? [] : [{ ...write.resource, id: write.id }])),
  );
  let next = 0;
  const pending: PendingWrite[] = writes.map((write, place) => {
    const foundBy = write.method === 'delete' ? NOTHING : (drawn[next++] ?? NOTHING);
    return { write, place, foundBy };
  });
  const written: WrittenVersion[] = [];
  // A round leaves over the updates whose resource another transaction created meanwhile: now they do find it.
  for (let left = sortedById(pending); left.length > 0;)
    left = await writeRound(tx, left, options.at, written);
  return written;
}

interface PendingWrite {
  readonly write: ResourceWrite;
  readonly place: number;
  readonly foundBy: FoundBy;
}

interface PlannedVersion extends PendingWrite {
  readonly key: number;
  /** The patient of the version that is superseded. */
  readonly formerPatient: number | null;
  readonly version: number;
  readonly lastUpdated: Date;
  readonly operation: Operation;
  readonly json: string;
  readonly encoded: EncodedBody;
}

async function writeRound(
  tx: Transaction,
  pending: readonly PendingWrite[],
  at: Date,
  written: WrittenVersion[],
): Promise<PendingWrite[]> {
  const standing = await lockStanding(tx, pending);
  const fresh: PlannedVersion[] = [];
  const renewed: PlannedVersion[] = [];
  for (const one of pending) {
    const present = standing.get(textOf(one.write));
    checkConditions(one.write, present);
    if (present === undefined) fresh.push(plan(one, undefined, at));
    else if (one.write.method === 'delete' && present.operation === 'delete') {
      written[one.place] = unchanged(one.write, present);
    } else renewed.push(plan(one, present, at));
  }
  const inserted = await insertFresh(tx, fresh);
  await replacePresent(tx, renewed);
  const done = [...inserted.done, ...renewed];
  await writeFoundBy(tx, done, renewed);
  for (const one of done) {
    tx.changes.push({ key: one.key, version: one.version, operation: one.operation });
    written[one.place] = writtenOf(one, standing.get(textOf(one.write)));
  }
  return inserted.left;
}

interface Standing {
  readonly key: number;
  readonly type: string;
  readonly id: string;
  readonly version: number;
  readonly last_updated: Date;
  readonly operation: Operation;
  readonly patient: number | null;
}

const LOCK_STANDING: Statement = {
  name: 'lock-standing',
  text: `select key, type, id, version, last_updated, operation, patient from resource
         where (id, type) in (select * from unnest($1::text[], $2::text[])) order by id, type for update`,
};

/** Locks the present rows in the order of their ids, so that writers of several resources cannot deadlock. */
async function lockStanding(
  tx: Transaction,
  pending: readonly PendingWrite[],
): Promise<ReadonlyMap<string, Standing>> {
  const named = pending.filter(({ write }) => write.method !== 'create').map(({ write }) => write);
  if (named.length === 0) return new Map();
  const rows = await tx.query<Standing>({
    ...LOCK_STANDING,
    values: [named.map(({ id }) => id), named.map(({ type }) => type)],
  });
  return new Map(rows.map((row) => [textOf(row), row]));
}

function checkConditions(write: ResourceWrite, present: Standing | undefined): void {
  const { type, id } = write;
  if (write.method === 'delete' && present === undefined) {
    throw new StoreRefusal('not-found', `${type}/${id} is not known.`, { type, id });
  }
  if (write.method === 'create') return;
  const { ifVersion } = write;
  if (ifVersion !== undefined && ifVersion !== present?.version) {
    const particulars = { type, id, expectedVersion: ifVersion };
    throw new StoreRefusal(
      'version-conflict',
      present === undefined
        ? `${type}/${id} is not known, and version ${ifVersion} was expected.`
        : `${type}/${id} is at version ${present.version}, and version ${ifVersion} was expected.`,
      present === undefined ? particulars : { ...particulars, presentVersion: present.version },
    );
  }
  if (write.method === 'update' && write.ifAbsent === true && present && present.operation !== 'delete') {
    throw new StoreRefusal('id-taken', `${type}/${id} is already there.`, { type, id });
  }
}

function plan(pending: PendingWrite, present: Standing | undefined, at: Date): PlannedVersion {
  const { write } = pending;
  const version = (present?.version ?? 0) + 1;
  const earliest = present === undefined ? at.getTime() : present.last_updated.getTime() + 1;
  const lastUpdated = new Date(Math.max(at.getTime(), earliest));
  const gone = present === undefined || present.operation === 'delete';
  const operation = write.method === 'delete' ? 'delete' : gone ? 'create' : 'update';
  const json = write.method === 'delete' ? '' : bodyOf(write.resource, write.id, version, lastUpdated);
  const encoded = encodeBody(json);
  const { key = 0, patient: formerPatient = null } = present ?? {};
  return { ...pending, key, formerPatient, version, lastUpdated, operation, json, encoded };
}

function bodyOf(resource: ResourceContent, id: string, version: number, lastUpdated: Date): string {
  const { resourceType, meta } = resource;
  const own = { versionId: String(version), lastUpdated: lastUpdated.toISOString() };
  const tags = isObject(meta) ? without(meta, ['versionId', 'lastUpdated']) : {};
  const rest = without(resource, ['resourceType', 'id', 'meta']);
  return stringifyJson({ resourceType, id, meta: { ...own, ...tags }, ...rest });
}

function without(record: object, names: readonly string[]): object {
  return Object.fromEntries(Object.entries(record).filter(([name]) => !names.includes(name)));
}

const INSERT_FRESH: Statement = {
  name: 'insert-fresh',
  text: `insert into resource (last_updated, date_low, date_high, version, patient, concept, encoding, operation,
                               type, id, tokens, body)
         select last_updated, date_low, date_high, 1, patient, concept, encoding, 'create', type, id,
                tokens::int[], body
         from unnest($1::timestamptz[], $2::bigint[], $3::bigint[], $4::int[], $5::int[], $6::smallint[],
                     $7::text[], $8::text[], $9::text[], $10::bytea[])
              as fresh (last_updated, date_low, date_high, patient, concept, encoding, type, id, tokens, body)
         on conflict (id, type) do nothing returning key, type, id`,
};

/** Inserts, in the order of ids, what is not there; a create that finds its id taken is refused. */
async function insertFresh(
  tx: Transaction,
  fresh: readonly PlannedVersion[],
): Promise<{ readonly done: readonly PlannedVersion[]; readonly left: PendingWrite[] }> {
  if (fresh.length === 0) return { done: [], left: [] };
  const rows = await tx.query<{ key: number; type: string; id: string }>({
    ...INSERT_FRESH,
    values: [
      fresh.map(({ lastUpdated }) => lastUpdated),
      fresh.map(({ foundBy }) => foundBy.dateLow),
      fresh.map(({ foundBy }) => foundBy.dateHigh),
      fresh.map(({ foundBy }) => foundBy.patient),
      fresh.map(({ foundBy }) => foundBy.concept),
      fresh.map(({ encoded }) => encoded.encoding),
      fresh.map(({ write }) => write.type),
      fresh.map(({ write }) => write.id),
      fresh.map(({ foundBy }) => arrayText(foundBy.tokens)),
      fresh.map(({ encoded }) => encoded.body),
    ],
  });
  const keys = new Map(rows.map((row) => [textOf(row), row.key]));
  const done: PlannedVersion[] = [];
  const left: PendingWrite[] = [];
  for (const one of fresh) {
    const key = keys.get(textOf(one.write));
    if (key !== undefined) done.push({ ...one, key });
    else if (one.write.method !== 'create') left.push(one);
    else {
      const { type, id } = one.write;
      throw new StoreRefusal('id-taken', `${type}/${id} is already there.`, { type, id });
    }
  }
  return { done, left };
}

const REPLACE_PRESENT: Statement = {
  name: 'replace-present',
  text: `with renewed as (
           select * from unnest($1::bigint[], $2::timestamptz[], $3::bigint[], $4::bigint[], $5::int[], $6::int[],
                                $7::int[], $8::smallint[], $9::text[], $10::text[], $11::bytea[])
             as renewed (key, last_updated, date_low, date_high, version, patient, concept, encoding, operation,
                         tokens, body)
         ), superseded as (
           insert into resource_history (key, last_updated, version, encoding, operation, body)
           select key, resource.last_updated, resource.version, resource.encoding, resource.operation, resource.body
           from resource join renewed using (key)
         )
         update resource
         set last_updated = renewed.last_updated, date_low = renewed.date_low, date_high = renewed.date_high,
             version = renewed.version, patient = renewed.patient, concept = renewed.concept,
             encoding = renewed.encoding, operation = renewed.operation, tokens = renewed.tokens::int[],
             body = renewed.body
         from renewed where resource.key = renewed.key`,
};

/** Moves the present versions into the history and puts the new ones in their place. */
async function replacePresent(tx: Transaction, renewed: readonly PlannedVersion[]): Promise<void> {
  if (renewed.length === 0) return;
  await tx.query({
    ...REPLACE_PRESENT,
    values: [
      renewed.map(({ key }) => key),
      renewed.map(({ lastUpdated }) => lastUpdated),
      renewed.map(({ foundBy }) => foundBy.dateLow),
      renewed.map(({ foundBy }) => foundBy.dateHigh),
      renewed.map(({ version }) => version),
      renewed.map(({ foundBy }) => foundBy.patient),
      renewed.map(({ foundBy }) => foundBy.concept),
      renewed.map(({ encoded }) => encoded.encoding),
      renewed.map(({ operation }) => operation),
      renewed.map(({ foundBy }) => arrayText(foundBy.tokens)),
      renewed.map(({ encoded }) => encoded.body),
    ],
  });
}

const FORGET_FOUND_BY: Statement = {
  name: 'forget-found-by',
  // Points are reached through the patients that these resources may have had: their index begins with the patient.
  text: `with dates as (delete from search_date where key = any($1::bigint[])),
              strings as (delete from search_string where key = any($1::bigint[])),
              quantities as (delete from search_quantity where key = any($1::bigint[])),
              uris as (delete from search_uri where key = any($1::bigint[])),
              rare as (delete from search_rare where key = any($1::bigint[]))
         delete from point where patient = any($2::int[]) and key = any($1::bigint[])`,
};

/** All kinds in one statement, one trip to the database; most lists are empty. */
const INSERT_FOUND_BY: Statement = {
  name: 'insert-found-by',
  text: `with dates as (
           insert into search_date (key, low, high, parameter)
           select * from unnest($1::bigint[], $2::bigint[], $3::bigint[], $4::int[])
         ), strings as (
           insert into search_string (key, parameter, folded, exact)
           select * from unnest($5::bigint[], $6::int[], $7::text[], $8::text[])
         ), quantities as (
           insert into search_quantity (key, value, parameter, unit, comparator)
           select * from unnest($9::bigint[], $10::float8[], $11::int[], $12::int[], $13::text[])
         ), uris as (
           insert into search_uri (key, parameter, uri)
           select * from unnest($14::bigint[], $15::int[], $16::text[])
         ), rare as (
           insert into search_rare (key, field, value)
           select * from unnest($26::bigint[], $27::int[], $28::text[])
         )
         insert into point (effective, key, value, patient, series, component, as_expected, status, digits)
         select * from unnest($17::bigint[], $18::bigint[], $19::float8[], $20::int[], $21::int[], $22::smallint[],
                              $23::boolean[], $24::text[], $25::text[])`,
};

/** Replaces the search rows and points of the versions written. */
async function writeFoundBy(
  tx: Transaction,
  done: readonly PlannedVersion[],
  renewed: readonly PlannedVersion[],
): Promise<void> {
  if (renewed.length > 0) {
    const patients = renewed.flatMap(({ formerPatient }) => formerPatient ?? []);
    await tx.query({ ...FORGET_FOUND_BY, values: [renewed.map(({ key }) => key), patients] });
  }
  const values = foundByColumns(done);
  if (values.some((column) => column.length > 0)) await tx.query({ ...INSERT_FOUND_BY, values });
}

/** The rows of `INSERT_FOUND_BY`, by columns. */
function foundByColumns(done: readonly PlannedVersion[]): readonly (readonly unknown[])[] {
  const dates = done.flatMap(({ key, foundBy }) => foundBy.dates.map((row) => ({ ...row, key })));
  const strings = done.flatMap(({ key, foundBy }) => foundBy.strings.map((row) => ({ ...row, key })));
  const quantities = done.flatMap(({ key, foundBy }) => foundBy.quantities.map((row) => ({ ...row, key })));
  const uris = done.flatMap(({ key, foundBy }) => foundBy.uris.map((row) => ({ ...row, key })));
  const rare = done.flatMap(({ key, foundBy }) => foundBy.rare.map((row) => ({ ...row, key })));
  const points = done.flatMap(({ key, foundBy: { patient, points: own } }) =>
    patient === null ? [] : own.map((row) => ({ ...row, key, patient })),
  );
  return [
    ...[dates.map(({ key }) => key), dates.map(({ low }) => low), dates.map(({ high }) => high)],
    dates.map(({ parameter }) => parameter),
    ...[strings.map(({ key }) => key), strings.map(({ parameter }) => parameter)],
    ...[strings.map(({ folded }) => folded), strings.map(({ exact }) => exact)],
    ...[quantities.map(({ key }) => key), quantities.map(({ value }) => value)],
    ...[quantities.map(({ parameter }) => parameter), quantities.map(({ unit }) => unit)],
    quantities.map(({ comparator }) => comparator),
    ...[uris.map(({ key }) => key), uris.map(({ parameter }) => parameter), uris.map(({ uri }) => uri)],
    ...[points.map(({ effective }) => effective), points.map(({ key }) => key)],
    ...[points.map(({ value }) => value), points.map(({ patient }) => patient)],
    ...[points.map(({ series }) => series), points.map(({ component }) => component)],
    ...[points.map(({ asExpected }) => asExpected), points.map(({ status }) => status)],
    points.map(({ digits, value }) => (digits === String(value) ? null : digits)),
    ...[rare.map(({ key }) => key), rare.map(({ field }) => field), rare.map(({ value }) => value)],
  ];
}

function writtenOf(version: PlannedVersion, present: Standing | undefined): WrittenVersion {
  const { write, operation, lastUpdated } = version;
  return {
    ...{ type: write.type, id: write.id, version: version.version, lastUpdated, operation },
    deleted: operation === 'delete',
    body: Buffer.from(version.json, 'utf8'),
    created: operation === 'create' && (present === undefined || present.operation === 'delete'),
    changed: true,
  };
}

function unchanged({ type, id }: ResourceWrite, present: Standing): WrittenVersion {
  const { version, last_updated: lastUpdated, operation } = present;
  const nothing = { deleted: true, body: Buffer.alloc(0), created: false, changed: false };
  return { type, id, version, lastUpdated, operation, ...nothing };
}

function refuseDoubles(writes: readonly ResourceWrite[]): void {
  const seen = new Set<string>();
  for (const write of writes) {
    const { type, id } = write;
    if (seen.has(textOf(write))) {
      throw new StoreRefusal('written-twice', `${type}/${id} is written twice at once.`, { type, id });
    }
    seen.add(textOf(write));
  }
}

function sortedById(pending: readonly PendingWrite[]): PendingWrite[] {
  const text = ({ write }: PendingWrite): string => `${write.id}/${write.type}`;
  return [...pending].sort((one, other) => (text(one) < text(other) ? -1 : 1));
}

const textOf = ({ type, id }: { readonly type: string; readonly id: string }): string => `${type}/${id}`;

const arrayText = (numbers: readonly number[]): string => `{${numbers.join(',')}}`;

const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null;

/** Columns of a version, of the table of present ones or of the history. */
export interface VersionRow {
  readonly type: string;
  readonly id: string;
  readonly version: number;
  readonly last_updated: Date;
  readonly operation: Operation;
  readonly encoding: number;
  readonly body: Buffer;
}

/** A row as it is given out, its body unpacked. */
export function versionOf(row: VersionRow): StoredVersion {
  const { type, id, version, last_updated: lastUpdated, operation } = row;
  const deleted = operation === 'delete';
  return { type, id, version, lastUpdated, operation, deleted, body: decodeBody(row) };
}

const READ_PRESENT: Statement = {
  name: 'read-present',
  text: `select type, id, version, last_updated, operation, encoding, body from resource where id = $1 and type = $2`,
};

/** The present version, which may be a deletion; undefined when the resource was never there. */
export async function readResource(
  db: Connection,
  type: string,
  id: string,
): Promise<StoredVersion | undefined> {
  if (!isPossibleId(id)) return undefined;
  const [row] = await db.query<VersionRow>({ ...READ_PRESENT, values: [id, type] });
  return row === undefined ? undefined : versionOf(row);
}

const READ_MANY: Statement = {
  name: 'read-many',
  text: `select type, id, version, last_updated, operation, encoding, body from resource
         where (id, type) in (select * from unnest($1::text[], $2::text[]))`,
};

/** The present versions of the resources named, in any order; those that were never there are left out. */
export async function readResources(
  db: Connection,
  names: readonly { readonly type: string; readonly id: string }[],
): Promise<readonly StoredVersion[]> {
  const possible = names.filter(({ id }) => isPossibleId(id));
  if (possible.length === 0) return [];
  const values = [possible.map(({ id }) => id), possible.map(({ type }) => type)];
  return (await db.query<VersionRow>({ ...READ_MANY, values })).map(versionOf);
}

/** Every version of a resource, present and superseded. */
const ALL_VERSIONS = `
  (select resource.type, resource.id, version, last_updated, operation, encoding, body
   from resource where id = $1 and type = $2
   union all
   select resource.type, resource.id, history.version, history.last_updated, history.operation, history.encoding,
          history.body
   from resource join resource_history as history using (key) where resource.id = $1 and resource.type = $2) as every`;

const READ_VERSION: Statement = {
  name: 'read-version',
  text: `select * from ${ALL_VERSIONS} where version = $3`,
};

/** One version; undefined when there is none of this number. */
export async function readVersion(
  db: Connection,
  type: string,
  id: string,
  version: number,
): Promise<StoredVersion | undefined> {
  if (!isPossibleId(id) || !isPossibleVersion(version)) return undefined;
  const [row] = await db.query<VersionRow>({ ...READ_VERSION, values: [id, type, version] });
  return row === undefined ? undefined : versionOf(row);
}

const READ_HISTORY: Statement = {
  name: 'read-history',
  text: `select * from ${ALL_VERSIONS} where version < $3 order by version desc limit $4`,
};

/** The versions of a resource, newest first, deletions included; `before` is the version number a page starts below. */
export async function readHistory(
  db: Connection,
  type: string,
  id: string,
  page: { readonly count: number; readonly before?: number },
): Promise<readonly StoredVersion[]> {
  if (!isPossibleId(id)) return [];
  const before = Math.min(page.before ?? LARGEST_VERSION, LARGEST_VERSION);
  const rows = await db.query<VersionRow>({ ...READ_HISTORY, values: [id, type, before, page.count] });
  return rows.map(versionOf);
}

const LARGEST_VERSION = 2_147_483_647;

const isPossibleVersion = (version: number): boolean =>
  Number.isInteger(version) && version > 0 && version <= LARGEST_VERSION;

/** R4 datatypes, id: `[A-Za-z0-9\-\.]{1,64}`. */
const isPossibleId = (id: string): boolean => /^[A-Za-z0-9.-]{1,64}$/.test(id);

/** A version in the order in which it became visible. */
export interface Change {
  readonly sequence: number;
  readonly type: string;
  readonly id: string;
  readonly version: number;
  readonly operation: Operation;
}

const READ_CHANGES: Statement = {
  name: 'read-changes',
  text: `select sequence, type, id, change.version, change.operation from change join resource using (key)
         where sequence > $1 order by sequence limit $2`,
};

/** The changes after a number, in order. No later change ever gets a number below one that was read. */
export async function readChanges(
  db: Connection,
  page: { readonly after: number; readonly limit: number },
): Promise<readonly Change[]> {
  return db.query<Change>({ ...READ_CHANGES, values: [page.after, page.limit] });
}
