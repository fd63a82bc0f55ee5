import pg from 'pg';
import type { SearchValues } from '../src/fhir/index.js';
import type { Extractors } from '../src/store/index.js';

/** What a resource is found by that is found by nothing. */
export const noSearchValues: SearchValues = {
  tokens: [],
  texts: [],
  pairs: [],
  references: [],
  dates: [],
  strings: [],
  quantities: [],
  uris: [],
};

/** Extractors that find nothing, for tests that are about other things. */
export const noExtractors: Extractors = { searchValues: () => noSearchValues, points: () => [] };

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
