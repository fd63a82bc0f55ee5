import pg from 'pg';
import type { Extractors } from '../src/store/index.js';

/** Extractors that find nothing, for tests that are about other things. */
export const noExtractors: Extractors = {
  searchValues: () => ({
    tokens: [],
    texts: [],
    pairs: [],
    references: [],
    dates: [],
    strings: [],
    quantities: [],
    uris: [],
  }),
  points: () => [],
};

/** The same server, another database. */
export function databaseOn(connectionString: string, name: string): string {
  return connectionString.replace(/^(\w+:\/\/[^/]*\/)[^?]*/, `$1${name}`);
}

/** Runs one statement in a connection of its own. */
export async function runAsAdmin(admin: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: admin });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}
