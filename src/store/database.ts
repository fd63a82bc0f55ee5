import { setTimeout as sleep } from 'node:timers/promises';
import type { CompiledQuery } from 'kysely';
import { DummyDriver, Kysely, PostgresAdapter, PostgresIntrospector, PostgresQueryCompiler } from 'kysely';
import pg from 'pg';
import type { SearchValues } from '../fhir/index.js';
import { Dictionary } from './dictionary.js';
import type { Point } from './point.js';
import { codeOf } from './statement.js';
import type { Statement } from './statement.js';
import type { Tables } from './tables.js';

/** What is drawn from a resource when it is written; the store itself knows no anatomy and no FHIR paths. */
export interface Extractors {
  /** What the resource is found by. */
  readonly searchValues: (resource: unknown) => SearchValues;
  /** The measured points of the resource, for trends; none for most. */
  readonly points: (resource: unknown) => readonly Point[];
}

export interface DatabaseOptions {
  readonly connectionString: string;
  /** Most connections at once; 10 when absent. */
  readonly max?: number;
  readonly extractors: Extractors;
}

/** What the store's functions take first: the database, or a transaction within it. */
export interface Connection {
  readonly database: Database;
  /** Runs one statement and gives its rows. bigint arrives as number: keys and milliseconds are below 2^53. */
  query<Row extends object>(statement: Statement): Promise<readonly Row[]>;
}

export interface Database extends Connection {
  readonly extractors: Extractors;
  readonly dictionary: Dictionary;
  readonly pool: pg.Pool;
  close(): Promise<void>;
}

/** A transaction, which only `transact` opens. */
export interface Transaction extends Connection {
  /** Versions written so far; entered into the sequence of changes as the last act before the commit. */
  readonly changes: NewChange[];
}

/** A version that a transaction wrote. */
export interface NewChange {
  readonly key: number;
  readonly version: number;
  readonly operation: 'create' | 'update' | 'delete';
}

/** Milliseconds after which a statement, or a transaction that idles, is ended by the server. */
const LONGEST_STATEMENT_MS = 60_000;

/** Milliseconds to wait for a free or new connection. */
const CONNECT_MS = 5_000;

/** Opens a pool on any PostgreSQL 15 or newer; nothing is sent before the first statement. */
export function openDatabase(options: DatabaseOptions): Database {
  const settings = {
    connectionString: options.connectionString,
    connectionTimeoutMillis: CONNECT_MS,
    statement_timeout: LONGEST_STATEMENT_MS,
    idle_in_transaction_session_timeout: LONGEST_STATEMENT_MS,
    types: typeParsers(),
  };
  const pool = new pg.Pool({ ...settings, application_name: 'limbledger', max: options.max ?? 10 });
  // Of its own, so that a writer inside a transaction never waits for a connection that another such writer holds.
  const dictionaryPool = new pg.Pool({ ...settings, application_name: 'limbledger dictionary', max: 2 });
  // A connection lost while idle is replaced at the next use; the statement in flight fails by itself.
  pool.on('error', () => undefined);
  dictionaryPool.on('error', () => undefined);
  return new PooledDatabase(pool, dictionaryPool, options.extractors);
}

class PooledDatabase implements Database {
  readonly database = this;
  readonly dictionary: Dictionary;
  readonly pool: pg.Pool;
  readonly extractors: Extractors;
  readonly #dictionaryPool: pg.Pool;

  constructor(pool: pg.Pool, dictionaryPool: pg.Pool, extractors: Extractors) {
    this.pool = pool;
    this.extractors = extractors;
    this.#dictionaryPool = dictionaryPool;
    this.dictionary = new Dictionary((statement) => ask(dictionaryPool, statement));
  }

  query<Row extends object>(statement: Statement): Promise<readonly Row[]> {
    return ask<Row>(this.pool, statement);
  }

  async close(): Promise<void> {
    await Promise.all([this.pool.end(), this.#dictionaryPool.end()]);
  }
}

class OpenTransaction implements Transaction {
  readonly database: Database;
  readonly changes: NewChange[] = [];
  readonly #client: pg.PoolClient;

  constructor(database: Database, client: pg.PoolClient) {
    this.database = database;
    this.#client = client;
  }

  query<Row extends object>(statement: Statement): Promise<readonly Row[]> {
    return ask<Row>(this.#client, statement);
  }

  /** Changes and commit go in one message, so that the lock of the sequence is held for no round trip. */
  async commit(): Promise<void> {
    await this.#client.query(this.changes.length === 0 ? 'commit' : `${appendChanges(this.changes)}; commit`);
  }
}

/** Only numbers and words of ours stand in this text; the simple protocol, which takes two statements, has no values. */
function appendChanges(changes: readonly NewChange[]): string {
  const list = (items: readonly (number | string)[]): string => `'{${items.join(',')}}'`;
  const keys = list(changes.map(({ key }) => key));
  const versions = list(changes.map(({ version }) => version));
  return `select append_changes(${keys}, ${versions}, ${list(changes.map(({ operation }) => operation))})`;
}

/**
 * Runs `work` in one transaction: all of it or nothing. A deadlock or a serialization failure runs it again, so
 * `work` must do nothing outside the transaction.
 */
export async function transact<Result>(
  db: Database,
  work: (tx: Transaction) => Promise<Result>,
): Promise<Result> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await attemptTransaction(db, work);
    } catch (error) {
      if (attempt === MOST_ATTEMPTS || !RETRIED.has(codeOf(error))) throw error;
      await sleep(attempt * 10 * (1 + Math.random()));
    }
  }
}

const MOST_ATTEMPTS = 5;

/** serialization_failure, deadlock_detected (PostgreSQL, appendix A): the transaction was rolled back whole. */
const RETRIED: ReadonlySet<string | undefined> = new Set(['40001', '40P01']);

async function attemptTransaction<Result>(
  db: Database,
  work: (tx: Transaction) => Promise<Result>,
): Promise<Result> {
  const client = await db.pool.connect();
  let broken: Error | undefined;
  try {
    await client.query('begin');
    const tx = new OpenTransaction(db, client);
    const result = await work(tx);
    await tx.commit();
    return result;
  } catch (error) {
    await client.query('rollback').catch((failure: unknown) => {
      broken = failure instanceof Error ? failure : new Error('rollback failed');
    });
    throw error;
  } finally {
    client.release(broken);
  }
}

/** Ends the connections, each after its statement in flight. */
export async function closeDatabase(db: Database): Promise<void> {
  await db.close();
}

/** Whether the database answers. */
export async function isReady(db: Database): Promise<boolean> {
  return db.query({ text: 'select 1' }).then(
    () => true,
    () => false,
  );
}

/** Whether an error says that the database cannot be reached or takes no statements now: try again later. */
export function isUnavailable(error: unknown): boolean {
  const code = codeOf(error);
  if (code !== undefined) return UNAVAILABLE.test(code);
  return error instanceof Error && LOST_CONNECTION.test(error.message);
}

/** Classes 08 (connection), 53 (resources), 57P (shutdown, starting up) of PostgreSQL; system errors of the socket. */
const UNAVAILABLE =
  /^(08\w{3}|53\w{3}|57P0\w|57014|ECONNREFUSED|ECONNRESET|ENOENT|EPIPE|ETIMEDOUT|ENOTFOUND|EHOSTUNREACH)$/;
const LOST_CONNECTION = /^(Connection terminated|timeout e|Client has encountered a connection error)/;

/** Builds typed statements; it holds no connection, `run` sends them through any. */
export const build = new Kysely<Tables>({
  dialect: {
    createAdapter: () => new PostgresAdapter(),
    createDriver: () => new DummyDriver(),
    createIntrospector: (db) => new PostgresIntrospector(db),
    createQueryCompiler: () => new PostgresQueryCompiler(),
  },
});

/** A statement of Kysely's builder or of its `sql` template. */
interface Built<Row> {
  compile(executor: typeof build): CompiledQuery<Row>;
}

/** Sends a built statement. */
export async function run<Row extends object>(
  connection: Connection,
  query: Built<Row>,
): Promise<readonly Row[]> {
  const { sql: text, parameters: values } = query.compile(build);
  return connection.query<Row>({ text, values });
}

async function ask<Row extends object>(
  target: pg.Pool | pg.PoolClient,
  statement: Statement,
): Promise<readonly Row[]> {
  const { rows } = await target.query<Row>({
    text: statement.text,
    ...(statement.name === undefined ? {} : { name: statement.name }),
    ...(statement.values === undefined ? {} : { values: [...statement.values] }),
  });
  return rows;
}

/** bigint as number; everything else as the driver reads it. */
function typeParsers(): pg.TypeOverrides {
  const parsers = new pg.TypeOverrides();
  parsers.setTypeParser(pg.types.builtins.INT8, Number);
  return parsers;
}
