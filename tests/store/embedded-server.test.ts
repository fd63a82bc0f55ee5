import { chmod, mkdir, mkdtemp, readFile, readdir, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { migrate, openDatabase, readResource, startEmbeddedServer } from '../../src/store/index.js';
import type { Database, EmbeddedServer } from '../../src/store/index.js';
import { noExtractors } from '../database.js';
import { killAfter, startWriter } from './killed-service.js';

const isRoot = process.getuid?.() === 0;

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'limbledger server '));
  await chmod(folder, 0o755);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const said: string[] = [];
const log = (line: string): void => {
  said.push(line);
};

async function withServer<Result>(
  dataFolder: string,
  work: (db: Database, server: EmbeddedServer) => Promise<Result>,
): Promise<Result> {
  const server = await startEmbeddedServer({ dataFolder, log });
  const db = openDatabase({ connectionString: server.connectionString, extractors: noExtractors });
  try {
    await migrate(db.pool);
    return await work(db, server);
  } finally {
    await db.close();
    await server.stop();
  }
}

async function postmasterOf(dataFolder: string): Promise<number> {
  const file = path.join(dataFolder, 'postgres', 'cluster', 'postmaster.pid');
  return Number((await readFile(file, 'utf8')).split('\n')[0]);
}

describe('the embedded server', () => {
  it('keeps what was written from one start to the next, in a folder whose path has spaces', async () => {
    const data = path.join(folder, 'kept data');
    await withServer(data, (db) => db.query({ text: 'create table kept as select 7 as number' }));
    const rows = await withServer(data, (db) => db.query({ text: 'select number from kept' }));
    expect(rows).toEqual([{ number: 7 }]);
  });

  it('writes through to the disk, in UTF-8, and asks for the password', async () => {
    await withServer(path.join(folder, 'kept data'), async (db, server) => {
      const settings = await db.query({
        text: `select current_setting('fsync') as fsync, current_setting('synchronous_commit') as commit,
                      current_setting('full_page_writes') as pages, current_setting('server_encoding') as encoding,
                      current_setting('data_checksums') as checksums`,
      });
      expect(settings).toEqual([
        { fsync: 'on', commit: 'on', pages: 'on', encoding: 'UTF8', checksums: 'on' },
      ]);
      const wrong = openDatabase({
        connectionString: server.connectionString.replace(/:[^:@/]+@/, ':wrong@'),
        extractors: noExtractors,
      });
      await expect(wrong.query({ text: 'select 1' })).rejects.toMatchObject({ code: '28P01' });
      await wrong.close();
    });
  });

  it('keeps its password in a file for its owner alone, off every command line and out of the log', async () => {
    const data = path.join(folder, 'kept data');
    await withServer(data, async () => {
      const file = path.join(data, 'postgres', 'password');
      expect((await stat(file)).mode & 0o777).toBe(0o600);
      expect((await stat(path.join(data, 'postgres'))).mode & 0o777).toBe(0o700);
      const password = (await readFile(file, 'utf8')).trim();
      expect(await readFile(path.join(data, 'postgres', 'server.log'), 'utf8')).not.toContain(password);
      for (const pid of (await readdir('/proc').catch(() => [])).filter((name) => /^\d+$/.test(name))) {
        const line = await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '');
        expect(line).not.toContain(password);
      }
    });
  });

  it("keeps the words of failed statements out of its log: they may be a patient's", async () => {
    const data = path.join(folder, 'kept data');
    await withServer(data, async (db) => {
      await db.query({ text: "select 'canary-3141'::int" }).catch(() => undefined);
      await db
        .query({ text: "insert into migration values ('0001_record', 'canary-3141')" })
        .catch(() => undefined);
    });
    expect(await readFile(path.join(data, 'postgres', 'server.log'), 'utf8')).not.toContain('canary-3141');
  });

  it('refuses a folder that another living service holds, in one line, and leaves that service alone', async () => {
    const data = path.join(folder, 'held');
    await withServer(data, async (db) => {
      await expect(startWriter(data)).rejects.toThrow(
        new RegExp(`The data folder .*held is held by another running process \\(process ${process.pid}\\)`),
      );
      expect(await db.query({ text: 'select 1 as one' })).toEqual([{ one: 1 }]);
    });
  });

  it('serves from a folder whose path is too long for a socket', async () => {
    const data = path.join(folder, 'x'.repeat(100), 'data');
    await withServer(data, async (db, server) => {
      expect(server.connectionString).toContain('127.0.0.1');
      expect(await db.query({ text: 'select 1 as one' })).toEqual([{ one: 1 }]);
    });
  });

  it('starts again by itself when PostgreSQL is killed, and the same connections serve', async () => {
    const data = path.join(folder, 'killed postgres');
    await withServer(data, async (db) => {
      await db.query({ text: 'create table kept as select 7 as number' });
      process.kill(await postmasterOf(data), 'SIGKILL');
      let rows: readonly object[] = [];
      for (let wait = 0; wait < 100 && rows.length === 0; wait += 1) {
        await sleep(50);
        rows = await db.query({ text: 'select number from kept' }).catch(() => []);
      }
      expect(rows).toEqual([{ number: 7 }]);
    });
  });

  it('loses no acknowledged write and keeps no half transaction when the service is killed amid writes', async () => {
    const data = path.join(folder, 'killed service');
    const acknowledged: (readonly string[])[] = [];
    for (let round = 0; round < 3; round += 1) {
      const writer = await startWriter(data);
      await killAfter(writer, 150 + round * 70);
      acknowledged.push(...writer.acknowledged);
    }
    expect(acknowledged.length).toBeGreaterThan(10);
    await withServer(data, async (db) => {
      for (const ids of acknowledged) {
        for (const id of ids) expect(await readResource(db, 'Patient', id)).toMatchObject({ version: 1 });
      }
      const counts = await db.query<{ resources: number; changes: number }>({
        text: 'select (select count(*) from resource) as resources, (select count(*) from change) as changes',
      });
      expect((counts[0]?.resources ?? 0) % 3).toBe(0);
      expect(counts[0]?.changes).toBe(counts[0]?.resources);
    });
    expect(said).toContain('PostgreSQL was left running by a service that was killed: it is started anew.');
  }, 60_000);

  it('serves one of two that start on the same folder at the same moment', async () => {
    const data = path.join(folder, 'raced');
    const outcomes = await Promise.allSettled([startWriter(data), startWriter(data)]);
    const winners = outcomes.flatMap((outcome) => (outcome.status === 'fulfilled' ? [outcome.value] : []));
    expect(winners).toHaveLength(1);
    for (const winner of winners) await killAfter(winner, 50);
    await withServer(data, async (db) => {
      expect(await db.query({ text: 'select 1 as one' })).toEqual([{ one: 1 }]);
    });
  }, 60_000);

  it.runIf(isRoot)(
    'keeps the data elsewhere, and says so, when root starts it where only root may enter',
    async () => {
      const closed = path.join(folder, 'closed');
      await mkdir(closed, { mode: 0o700 });
      said.length = 0;
      const connection = await withServer(path.join(closed, 'data'), (db, server) =>
        db.query({ text: 'select 1' }).then(() => server.connectionString),
      );
      const place = decodeURIComponent(/host=([^&]*)/.exec(connection)?.[1] ?? '');
      expect(place).toMatch(/^\/var\/lib\/limbledger\/closed-[0-9a-f]{10}\/postgres$/);
      expect(said.join('\n')).toContain(
        `cannot enter ${closed}/data: the data is kept in ${path.dirname(place)}`,
      );
      await rm(path.dirname(place), { recursive: true });
    },
  );

  it.runIf(isRoot)(
    'serves an ordinary user, and refuses one whose folder belongs to another',
    async () => {
      const data = path.join(folder, 'ordinary');
      await mkdir(data);
      await chmod(data, 0o777);
      const nobody = { uid: 65_534, gid: 65_534 };
      const writer = await startWriter(data, nobody);
      expect((await stat(path.join(data, 'postgres', 'cluster'))).uid).toBe(65_534);
      await killAfter(writer, 50);
      const other = path.join(folder, 'kept data');
      await expect(startWriter(other, nobody)).rejects.toThrow('belongs to another user');
      await withServer(data, (db) => db.query({ text: 'select 1' }));
    },
    60_000,
  );
});
