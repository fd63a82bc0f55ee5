import { afterEach, describe, expect, it } from 'vitest';
import { migrate, openDatabase } from '../../src/store/index.js';
import { emptyDatabase, noExtractors } from '../database.js';
import type { FreshDatabase } from '../database.js';

let fresh: FreshDatabase | undefined;
afterEach(async () => {
  await fresh?.drop();
});

async function empty(): Promise<FreshDatabase> {
  fresh = await emptyDatabase();
  return fresh;
}

describe('the migrations', () => {
  it('bring an empty database up to date once, and find nothing to do the second time', async () => {
    const { db } = await empty();
    const first = await migrate(db.pool);
    expect(first.applied[0]).toBe('0001_record');
    expect(await migrate(db.pool)).toEqual({ applied: [] });
  });

  it('are applied once each when two processes migrate at the same time', async () => {
    const { db, connectionString } = await empty();
    const other = openDatabase({ connectionString, extractors: noExtractors });
    const [one, two] = await Promise.all([migrate(db.pool), migrate(other.pool)]);
    await other.close();
    const applied = [...one.applied, ...two.applied];
    expect(new Set(applied).size).toBe(applied.length);
    expect(await db.query({ text: 'select name from migration order by name' })).toHaveLength(applied.length);
  });

  it('refuse a step that was changed after it was applied', async () => {
    const { db } = await empty();
    await migrate(db.pool);
    await db.query({ text: "update migration set checksum = 'other' where name = '0001_record'" });
    await expect(migrate(db.pool)).rejects.toThrow('The step 0001_record has changed since it was applied');
  });

  it('refuse a database that a newer version has migrated', async () => {
    const { db } = await empty();
    await migrate(db.pool);
    await db.query({ text: "insert into migration (name, checksum) values ('9999_later', '')" });
    await expect(migrate(db.pool)).rejects.toThrow('migrated by a newer version (step 9999_later)');
  });
});
