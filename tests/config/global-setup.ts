import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { chmod, mkdtemp, readFile, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { TestProject } from 'vitest/node';
import { migrate, openDatabase, startEmbeddedServer } from '../../src/store/index.js';
import { databaseOn, noExtractors, runAsAdmin } from '../test-server.js';

declare module 'vitest' {
  interface ProvidedContext {
    /** Address that gives the run's database server, and starts it when first asked. */
    readonly testDatabaseDoor: string;
  }
}

interface StartedServer {
  readonly connectionString: string;
  stop(): Promise<void>;
}

const TEMPLATE_PREFIX = 'limbledger_template_';

/**
 * One database server for the whole run, started when the first test file asks: `TEST_DATABASE_URL` names any server,
 * `TEST_POSTGRES_IMAGE=postgres:17` a container; else the packaged PostgreSQL in a folder for temporary files.
 */
export async function setup(project: TestProject): Promise<() => Promise<void>> {
  let server: Promise<StartedServer> | undefined;
  let template: Promise<string> | undefined;
  const door = createServer((_request, response) => {
    server ??= startServer();
    template ??= server.then(({ connectionString }) =>
      makeTemplate(databaseOn(connectionString, 'postgres')),
    );
    Promise.all([server, template])
      .then(([{ connectionString }, name]) => ({
        admin: databaseOn(connectionString, 'postgres'),
        template: name,
      }))
      .catch((error: unknown) => ({ fault: error instanceof Error ? error.message : String(error) }))
      .then((answer) => response.end(JSON.stringify(answer)))
      .catch(() => response.destroy());
  });
  await new Promise<void>((resolve) => door.listen(0, '127.0.0.1', resolve));
  const { port } = door.address() as AddressInfo;
  project.provide('testDatabaseDoor', `http://127.0.0.1:${port}/`);
  return async () => {
    door.close();
    door.closeAllConnections();
    const started = await server?.catch(() => undefined);
    const name = await template?.catch(() => undefined);
    if (started === undefined) return;
    if (name !== undefined) await dropTemplate(databaseOn(started.connectionString, 'postgres'), name);
    await started.stop();
  };
}

async function startServer(): Promise<StartedServer> {
  const url = process.env['TEST_DATABASE_URL'];
  if (url !== undefined && url !== '') return { connectionString: url, stop: () => Promise.resolve() };
  const image = process.env['TEST_POSTGRES_IMAGE'];
  const container = image === undefined || image === '' ? undefined : await startContainer(image);
  return container ?? startPackagedServer();
}

async function startContainer(image: string): Promise<StartedServer | undefined> {
  const { PostgreSqlContainer } = await import('@testcontainers/postgresql');
  try {
    const container = await new PostgreSqlContainer(image).start();
    const stop = async (): Promise<void> => {
      await container.stop();
    };
    return { connectionString: container.getConnectionUri(), stop };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    process.stderr.write(`No container of ${image} (${reason}): the packaged PostgreSQL is used instead.\n`);
    return undefined;
  }
}

const FOLDER_PREFIX = 'limbledger-tests-';

async function startPackagedServer(): Promise<StartedServer> {
  await clearKilledRuns();
  const folder = await mkdtemp(path.join(tmpdir(), `${FOLDER_PREFIX}${process.pid}-`));
  // As root the server runs as another user, who must be able to enter.
  await chmod(folder, 0o755);
  const log = (line: string): void => {
    process.stderr.write(`${line}\n`);
  };
  const server = await startEmbeddedServer({ dataFolder: path.join(folder, 'data'), log });
  const stop = async (): Promise<void> => {
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  };
  return { connectionString: server.connectionString, stop };
}

/** Ends servers and removes folders of earlier runs that were killed. */
async function clearKilledRuns(): Promise<void> {
  for (const name of await readdir(tmpdir())) {
    const run = new RegExp(`^${FOLDER_PREFIX}(\\d+)-`).exec(name)?.[1];
    if (run === undefined || isAlive(Number(run))) continue;
    const folder = path.join(tmpdir(), name);
    const pidFile = path.join(folder, 'data', 'postgres', 'cluster', 'postmaster.pid');
    const pid = Number((await readFile(pidFile, 'utf8').catch(() => '')).split('\n')[0]);
    if (pid > 0 && isAlive(pid)) process.kill(pid, 'SIGQUIT');
    await rm(folder, { recursive: true, force: true, maxRetries: 5 }).catch(() => undefined);
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

async function makeTemplate(admin: string): Promise<string> {
  const name = `${TEMPLATE_PREFIX}${process.pid}_${Date.now()}`;
  await runAsAdmin(admin, `create database ${name} template template0 encoding 'UTF8'`);
  const db = openDatabase({ connectionString: databaseOn(admin, name), extractors: noExtractors, max: 1 });
  await migrate(db.pool);
  await db.close();
  return name;
}

async function dropTemplate(admin: string, name: string): Promise<void> {
  await runAsAdmin(admin, `drop database if exists ${name} with (force)`).catch(() => undefined);
}
