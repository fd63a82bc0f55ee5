import { createHash } from 'node:crypto';
import { readFile, readdir } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type pg from 'pg';

/** A database that cannot be migrated; its message is one line for the person at the terminal. */
export class MigrationFault extends Error {
  override readonly name = 'MigrationFault';
}

/** One numbered step of the schema. */
interface Migration {
  readonly name: string;
  readonly sql: string;
  readonly checksum: string;
}

/** Beside src and dist alike, in the checkout and in the installed package. */
const FOLDER = fileURLToPath(new URL('../../migrations', import.meta.url));

/** Held while migrating, so that a second process waits and then finds nothing to do. */
const MIGRATION_LOCK = 7_460_003;

/** PostgreSQL 15, whose `nulls not distinct` the series need. */
const OLDEST_SERVER = 150_000;

/**
 * Brings the schema up to date: each step that is missing, in order, in a transaction of its own. Forward only; a
 * step that was applied and has changed since is refused. Run twice, or from two processes at once, it does no harm.
 */
export async function migrate(pool: pg.Pool): Promise<{ readonly applied: readonly string[] }> {
  const migrations = await readMigrations();
  const client = await pool.connect();
  try {
    await checkServer(client);
    await client.query('set statement_timeout = 0');
    await client.query('select pg_advisory_lock($1)', [MIGRATION_LOCK]);
    const applied: string[] = [];
    for (const migration of await findMissing(client, migrations)) {
      await apply(client, migration);
      applied.push(migration.name);
    }
    return { applied };
  } finally {
    // The session is closed rather than returned: that frees the lock whatever happened.
    client.release(true);
  }
}

async function readMigrations(): Promise<readonly Migration[]> {
  const names = (await readdir(FOLDER)).filter((name) => /^\d{4}_.*\.sql$/.test(name)).sort();
  return Promise.all(
    names.map(async (file) => {
      const sql = (await readFile(path.join(FOLDER, file), 'utf8')).replaceAll('\r\n', '\n');
      const checksum = createHash('sha256').update(sql).digest('hex');
      return { name: file.replace(/\.sql$/, ''), sql, checksum };
    }),
  );
}

async function checkServer(client: pg.PoolClient): Promise<void> {
  const { rows } = await client.query<{ number: number; name: string; encoding: string }>(
    `select current_setting('server_version_num')::int as number, current_setting('server_version') as name,
            current_setting('server_encoding') as encoding`,
  );
  const server = rows[0];
  if (server === undefined || server.number < OLDEST_SERVER) {
    throw new MigrationFault(
      `PostgreSQL 15 or newer is needed, and this server is ${server?.name ?? 'unknown'}.`,
    );
  }
  if (server.encoding !== 'UTF8') {
    throw new MigrationFault(`The database must have encoding UTF8, and this one has ${server.encoding}.`);
  }
}

async function findMissing(
  client: pg.PoolClient,
  migrations: readonly Migration[],
): Promise<readonly Migration[]> {
  await client.query(
    `create table if not exists migration (
       name text collate "C" primary key, checksum text not null, applied_at timestamptz not null default now())`,
  );
  const { rows } = await client.query<{ name: string; checksum: string }>(
    'select name, checksum from migration',
  );
  const known = new Map(rows.map(({ name, checksum }) => [name, checksum]));
  const unknown = [...known.keys()].find((name) => !migrations.some((migration) => migration.name === name));
  if (unknown !== undefined) {
    throw new MigrationFault(
      `The database was migrated by a newer version (step ${unknown}): use that version.`,
    );
  }
  const changed = migrations.find(({ name, checksum }) => known.has(name) && known.get(name) !== checksum);
  if (changed !== undefined) {
    throw new MigrationFault(`The step ${changed.name} has changed since it was applied to this database.`);
  }
  return migrations.filter(({ name }) => !known.has(name));
}

async function apply(client: pg.PoolClient, { name, sql, checksum }: Migration): Promise<void> {
  await client.query('begin');
  await client.query(sql);
  await client.query('insert into migration (name, checksum) values ($1, $2)', [name, checksum]);
  await client.query('commit');
}
