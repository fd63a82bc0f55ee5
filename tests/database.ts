import { randomBytes } from 'node:crypto';
import { inject } from 'vitest';
import { openDatabase } from '../src/store/index.js';
import type { Database, Extractors } from '../src/store/index.js';
import { databaseOn, noExtractors, runAsAdmin } from './test-server.js';

export { noExtractors } from './test-server.js';

/** A database of its own, with the schema in it and nothing else. */
export interface FreshDatabase {
  readonly db: Database;
  readonly connectionString: string;
  /** Closes the connections and removes the database. */
  drop(): Promise<void>;
}

/**
 * Clones the migrated template of this run's server. Call it once in a test file (`beforeAll`) and drop it in the
 * end (`afterAll`). The server is started when the first test file asks for it.
 */
export async function freshDatabase(
  options: { readonly extractors?: Extractors; readonly max?: number } = {},
): Promise<FreshDatabase> {
  const { admin, template } = await askForServer();
  return createDatabase(admin, `template ${template}`, options);
}

/** A database without the schema, for tests of the migrations. */
export async function emptyDatabase(): Promise<FreshDatabase> {
  const { admin } = await askForServer();
  return createDatabase(admin, "template template0 encoding 'UTF8'", {});
}

async function createDatabase(
  admin: string,
  how: string,
  options: { readonly extractors?: Extractors; readonly max?: number },
): Promise<FreshDatabase> {
  const name = `test_${randomBytes(8).toString('hex')}`;
  await runAsAdmin(admin, `create database ${name} ${how}`);
  const connectionString = databaseOn(admin, name);
  const { extractors = noExtractors, max = 10 } = options;
  const db = openDatabase({ connectionString, extractors, max });
  const drop = async (): Promise<void> => {
    await db.close();
    await runAsAdmin(admin, `drop database if exists ${name} with (force)`);
  };
  return { db, connectionString, drop };
}

interface TestServer {
  /** Connects to the server's database `postgres` as one who may create databases. */
  readonly admin: string;
  /** Name of the migrated template. */
  readonly template: string;
}

async function askForServer(): Promise<TestServer> {
  const response = await fetch(inject('testDatabaseDoor'));
  const answer = (await response.json()) as TestServer | { readonly fault: string };
  if ('fault' in answer) throw new Error(answer.fault);
  return answer;
}
