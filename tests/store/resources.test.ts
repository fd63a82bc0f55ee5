import { LosslessNumber } from 'lossless-json';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  newId,
  readChanges,
  readHistory,
  readResource,
  readVersion,
  transact,
  writeResources,
} from '../../src/store/index.js';
import type { Database, ResourceWrite, WrittenVersion } from '../../src/store/index.js';
import { freshDatabase } from '../database.js';
import type { FreshDatabase } from '../database.js';

let fresh: FreshDatabase;
let db: Database;
beforeAll(async () => {
  fresh = await freshDatabase({ max: 20 });
  db = fresh.db;
});
afterAll(() => fresh.drop());

const AT = new Date('2026-03-05T13:10:00.000Z');

async function write(writes: readonly ResourceWrite[], at: Date = AT): Promise<readonly WrittenVersion[]> {
  return transact(db, (tx) => writeResources(tx, writes, { at }));
}

async function writeOne(one: ResourceWrite, at: Date = AT): Promise<WrittenVersion> {
  const [written] = await write([one], at);
  if (written === undefined) throw new Error('nothing was written');
  return written;
}

const textOf = (version: { readonly body: Buffer } | undefined): string =>
  version?.body.toString('utf8') ?? '';

const patient = (id: string, more: object = {}): ResourceWrite => ({
  method: 'update',
  type: 'Patient',
  id,
  resource: { resourceType: 'Patient', ...more },
});

describe('a resource that is created', () => {
  it('is read back as it was sent, with id, version 1 and the moment of the write', async () => {
    const id = newId();
    const resource = { resourceType: 'Patient', active: true };
    const written = await writeOne({ method: 'create', type: 'Patient', id, resource });
    const read = await readResource(db, 'Patient', id);
    expect(textOf(read)).toBe(
      `{"resourceType":"Patient","id":"${id}","meta":{"versionId":"1","lastUpdated":"2026-03-05T13:10:00.000Z"},"active":true}`,
    );
    expect(textOf(written)).toBe(textOf(read));
    expect(written).toMatchObject({ version: 1, created: true, changed: true, operation: 'create' });
  });

  it('keeps the digits of its numbers and the rest of its meta (R4 datatypes, decimal: 30.50 is not 30.5)', async () => {
    const id = newId();
    const resource = {
      resourceType: 'Observation',
      meta: {
        versionId: '7',
        profile: ['https://limbledger.example/p'],
        lastUpdated: '2001-01-01T00:00:00Z',
      },
      valueQuantity: { value: new LosslessNumber('30.50') },
    };
    await writeOne({ method: 'create', type: 'Observation', id, resource });
    const text = textOf(await readResource(db, 'Observation', id));
    expect(text).toContain('"value":30.50}');
    expect(text).toContain('"profile":["https://limbledger.example/p"]');
    expect(text).toContain('"versionId":"1","lastUpdated":"2026-03-05T13:10:00.000Z"');
  });

  it('is refused when its id is taken, and nothing else of the same call is written', async () => {
    const [taken, other] = [newId(), newId()];
    await writeOne(patient(taken));
    const create = (id: string): ResourceWrite => ({
      method: 'create',
      type: 'Patient',
      id,
      resource: { resourceType: 'Patient' },
    });
    await expect(write([create(other), create(taken)])).rejects.toMatchObject({
      code: 'id-taken',
      id: taken,
    });
    expect(await readResource(db, 'Patient', other)).toBeUndefined();
  });
});

describe('a resource that is updated', () => {
  it('is created by an update of an unknown id, and says so', async () => {
    expect(await writeOne(patient(newId()))).toMatchObject({
      created: true,
      operation: 'create',
      version: 1,
    });
  });

  it('keeps each version readable and its history newest first', async () => {
    const id = newId();
    for (const gender of ['male', 'female', 'other']) await writeOne(patient(id, { gender }));
    expect((await readHistory(db, 'Patient', id, { count: 10 })).map(({ version }) => version)).toEqual([
      3, 2, 1,
    ]);
    expect(textOf(await readVersion(db, 'Patient', id, 2))).toContain('"gender":"female"');
    const page = await readHistory(db, 'Patient', id, { count: 1, before: 3 });
    expect(page.map(({ version }) => version)).toEqual([2]);
    expect(await readVersion(db, 'Patient', id, 4)).toBeUndefined();
  });

  it('rises in lastUpdated with each version even when the clock steps back an hour', async () => {
    const id = newId();
    await writeOne(patient(id), AT);
    await writeOne(patient(id), new Date(AT.getTime() - 3_600_000));
    await writeOne(patient(id), AT);
    const moments = (await readHistory(db, 'Patient', id, { count: 9 })).map(({ lastUpdated }) =>
      lastUpdated.getTime(),
    );
    expect(moments).toEqual([AT.getTime() + 2, AT.getTime() + 1, AT.getTime()]);
  });

  it('is refused when another version is present than the one expected', async () => {
    const id = newId();
    await writeOne(patient(id));
    await writeOne(patient(id));
    const late: ResourceWrite = {
      method: 'update',
      type: 'Patient',
      id,
      resource: { resourceType: 'Patient' },
      ifVersion: 1,
    };
    await expect(writeOne(late)).rejects.toMatchObject({
      code: 'version-conflict',
      expectedVersion: 1,
      presentVersion: 2,
    });
  });

  it('loses no update when sixteen clients read, raise and write it at once', async () => {
    const id = newId();
    await writeOne(patient(id, { multipleBirthInteger: 0 }));
    let accepted = 0;
    const client = async (): Promise<void> => {
      for (let attempt = 0; attempt < 12; attempt += 1) {
        const read = await readResource(db, 'Patient', id);
        const { multipleBirthInteger } = JSON.parse(textOf(read)) as { multipleBirthInteger: number };
        const resource = { resourceType: 'Patient', multipleBirthInteger: multipleBirthInteger + 1 };
        const raised = writeOne({
          method: 'update',
          type: 'Patient',
          id,
          resource,
          ifVersion: read?.version ?? 0,
        });
        const isAccepted = await raised.then(
          () => true,
          () => false,
        );
        if (isAccepted) accepted += 1;
      }
    };
    await Promise.all(Array.from({ length: 16 }, client));
    const end = await readResource(db, 'Patient', id);
    expect(textOf(end)).toContain(`"multipleBirthInteger":${accepted}`);
    expect(end?.version).toBe(accepted + 1);
    expect(accepted).toBeGreaterThan(11);
    const versions = (await readHistory(db, 'Patient', id, { count: 1000 })).map(({ version }) => version);
    expect(versions).toEqual(Array.from({ length: accepted + 1 }, (_, place) => accepted + 1 - place));
  });

  it('is one resource when twenty writers create it by update at the same moment', async () => {
    const id = newId();
    const written = await Promise.all(Array.from({ length: 20 }, () => writeOne(patient(id))));
    expect(written.filter(({ created }) => created)).toHaveLength(1);
    expect(new Set(written.map(({ version }) => version)).size).toBe(20);
  });

  it('never deadlocks with writers of the same resources in another order', async () => {
    const ids = Array.from({ length: 8 }, newId);
    const rounds = Array.from({ length: 24 }, (_, round) => {
      const order = round % 2 === 0 ? ids : [...ids].reverse();
      return write(order.map((id) => patient(id)));
    });
    await Promise.all(rounds);
    expect((await readResource(db, 'Patient', ids[0] ?? ''))?.version).toBe(24);
  });
});

describe('a resource that is deleted', () => {
  it('is gone with a version of its own, is not deleted twice, and can be revived', async () => {
    const id = newId();
    await writeOne(patient(id));
    const remove: ResourceWrite = { method: 'delete', type: 'Patient', id };
    expect(await writeOne(remove)).toMatchObject({ version: 2, deleted: true, changed: true });
    expect(await writeOne(remove)).toMatchObject({ version: 2, deleted: true, changed: false });
    expect(await readResource(db, 'Patient', id)).toMatchObject({ deleted: true, version: 2 });
    expect(await writeOne(patient(id))).toMatchObject({ version: 3, created: true, deleted: false });
    const operations = (await readHistory(db, 'Patient', id, { count: 9 })).map(({ operation }) => operation);
    expect(operations).toEqual(['create', 'delete', 'create']);
  });

  it('is refused when it was never there', async () => {
    const remove: ResourceWrite = { method: 'delete', type: 'Patient', id: newId() };
    await expect(writeOne(remove)).rejects.toMatchObject({ code: 'not-found' });
  });
});

describe('what was recorded', () => {
  it.each([
    'update resource_history set version = 9',
    'delete from resource_history',
    'truncate resource_history',
    'delete from resource',
    'delete from change',
    'update exam set answer = null',
  ])('cannot be altered by the statement "%s"', async (text) => {
    await expect(db.query({ text })).rejects.toMatchObject({ code: '23001' });
  });

  it('refuses one resource twice in one call', async () => {
    const id = newId();
    await expect(write([patient(id), patient(id)])).rejects.toMatchObject({ code: 'written-twice' });
  });

  it('is unmoved by ids that no resource can have', async () => {
    for (const id of ['', 'a b', 'a\0b', 'x'.repeat(65), "'; drop table resource; --"]) {
      expect(await readResource(db, 'Patient', id)).toBeUndefined();
    }
    expect(await readVersion(db, 'Patient', newId(), 2 ** 40)).toBeUndefined();
  });
});

describe('the sequence of changes', () => {
  it('never shows a change below one already read, while writers run at once', async () => {
    let last = (await readChanges(db, { after: 0, limit: 100_000 })).at(-1)?.sequence ?? 0;
    const seen: string[] = [];
    const ids: string[] = [];
    let writing = true;
    const reader = async (): Promise<void> => {
      for (let more = true; more;) {
        more = writing;
        const changes = await readChanges(db, { after: last, limit: 1000 });
        seen.push(...changes.map(({ id }) => id));
        last = changes.at(-1)?.sequence ?? last;
      }
    };
    const writer = async (): Promise<void> => {
      for (let round = 0; round < 25; round += 1) {
        const own = Array.from({ length: 1 + (round % 4) }, newId);
        ids.push(...own);
        await write(own.map((id) => patient(id)));
      }
    };
    const reading = reader();
    await Promise.all(Array.from({ length: 8 }, writer));
    writing = false;
    await reading;
    expect([...seen].sort()).toEqual([...ids].sort());
  });
});
