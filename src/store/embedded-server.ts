import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import {
  chown,
  link,
  open,
  readFile,
  readdir,
  rename,
  rm,
  stat,
  truncate,
  writeFile,
} from 'node:fs/promises';
import { createServer } from 'node:net';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import {
  EmbeddedServerFault,
  SERVER_ENVIRONMENT,
  identityOf,
  messageOf,
  placeServer,
} from './server-place.js';
import type { ServerPlace } from './server-place.js';
import { codeOf } from './statement.js';

/** A PostgreSQL server that lives in a data folder and belongs to this process. */
export interface EmbeddedServer {
  /** Connects to the service's database as its owner; holds the password, so never log it. */
  readonly connectionString: string;
  /** Stops the server cleanly (open transactions are rolled back) and gives the data folder free. */
  stop(): Promise<void>;
}

export interface EmbeddedServerOptions {
  /** Made when missing; a relative path counts from the working directory. */
  readonly dataFolder: string;
  /** The database within the server; `limbledger` when absent. */
  readonly database?: string;
  /** Throws the database of that name away first, and no other. */
  readonly fresh?: boolean;
  /** Takes one clear line for the person at the terminal. */
  readonly log: (line: string) => void;
}

const USER = 'limbledger';
const DATABASE = 'limbledger';

/** Number of the socket's file; with sockets no port is taken on the machine. */
const SOCKET_PORT = 5432;

/** Longest path of a Unix socket that every system takes (sockaddr_un has 104 bytes on macOS, 108 on Linux). */
const LONGEST_SOCKET_PATH = 103;

/** The session that holds this advisory lock owns the data folder; the kernel frees it with the process. */
const OWNER_LOCK = 7_460_001;

/** Milliseconds to wait for a neighbour's start or stop to end before giving up. */
const PATIENCE_MS = 30_000;

/** Milliseconds that crash recovery may take, during which the server answers "starting up". */
const RECOVERY_MS = 600_000;

const LOG_LIMIT_BYTES = 10_000_000;

/**
 * Starts the packaged PostgreSQL in the data folder, creating the cluster at the first start. A folder that a living
 * process holds is refused; a server left behind by a killed service is stopped and started anew, with the recovery
 * PostgreSQL does by itself. When the server dies while it is held, it is started again.
 */
export async function startEmbeddedServer(options: EmbeddedServerOptions): Promise<EmbeddedServer> {
  const place = await placeServer(options.dataFolder, options.log);
  const password = await keepPassword(place);
  await createCluster(place);
  const server = new HeldServer(place, password, await chooseAddress(place), options);
  try {
    await server.hold();
    await server.createDatabase(options.fresh === true);
  } catch (error) {
    await server.abandon();
    throw error;
  }
  return { connectionString: server.connectionString, stop: () => server.stop() };
}

/** Host and port as the client writes them: a folder of the socket, or the loopback address with a free port. */
interface Address {
  readonly host: string;
  readonly port: number;
}

async function chooseAddress(place: ServerPlace): Promise<Address> {
  const socket = path.join(place.folder, `.s.PGSQL.${SOCKET_PORT}.lock`);
  const fits = process.platform !== 'win32' && Buffer.byteLength(socket) <= LONGEST_SOCKET_PATH;
  if (fits) return { host: place.folder, port: SOCKET_PORT };
  const running = await readPostmaster(place);
  return { host: '127.0.0.1', port: running?.port ?? (await findFreePort()) };
}

async function findFreePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => {
        resolve(typeof address === 'object' && address !== null ? address.port : 0);
      });
    });
  });
}

/** The cluster's password, made once: never on a command line or in a log. Two starts at once get the same one. */
async function keepPassword(place: ServerPlace): Promise<string> {
  const file = path.join(place.folder, 'password');
  const known = await readFile(file, 'utf8').catch(() => '');
  if (known !== '') return known.trim();
  const fresh = `${file}.new-${process.pid}`;
  await writeFile(fresh, `${randomBytes(24).toString('base64url')}\n`, { mode: 0o600 });
  if (place.account !== undefined) await chown(fresh, place.account.uid, place.account.gid);
  await link(fresh, file).catch((error: unknown) => {
    if (codeOf(error) !== 'EEXIST') throw error;
  });
  await rm(fresh);
  return (await readFile(file, 'utf8')).trim();
}

/** Makes the cluster beside its place and renames it, so that a killed first start leaves nothing half-made. */
async function createCluster(place: ServerPlace): Promise<void> {
  const cluster = path.join(place.folder, 'cluster');
  const version = await readFile(path.join(cluster, 'PG_VERSION'), 'utf8').catch(() => '');
  if (version.trim() === place.programs.major) return;
  if (version !== '') {
    throw new EmbeddedServerFault(
      `The data folder ${place.folder} was written by PostgreSQL ${version.trim()}, and the packaged server is ${place.programs.major}: move the data with pg_dump, or set DATABASE_URL to a server of that version.`,
    );
  }
  await clearDeadStarts(place);
  const fresh = `${cluster}.new-${process.pid}`;
  await runProgram(place, place.programs.initdb, [
    ...['--pgdata', fresh, '--username', USER, '--pwfile', path.join(place.folder, 'password')],
    ...[
      '--auth',
      'scram-sha-256',
      '--encoding',
      'UTF8',
      '--locale',
      'C',
      '--data-checksums',
      '--no-instructions',
    ],
    ...['--locale-provider', 'builtin', '--builtin-locale', 'C.UTF-8'],
  ]);
  await rename(fresh, cluster).catch(async (error: unknown) => {
    await rm(fresh, { recursive: true, force: true });
    if (codeOf(error) !== 'ENOTEMPTY' && codeOf(error) !== 'EEXIST') throw error;
  });
}

async function clearDeadStarts(place: ServerPlace): Promise<void> {
  for (const name of await readdir(place.folder)) {
    const pid = /\.new-(\d+)$/.exec(name)?.[1];
    if (pid === undefined || isAlive(Number(pid))) continue;
    await rm(path.join(place.folder, name), { recursive: true, force: true });
  }
}

/** One server in its data folder: launched, guarded by a session that owns the folder, started again when it dies. */
class HeldServer {
  readonly connectionString: string;
  readonly #place: ServerPlace;
  readonly #password: string;
  readonly #address: Address;
  readonly #database: string;
  readonly #log: (line: string) => void;
  #child: ChildProcess | undefined;
  #guard: pg.Client | undefined;
  #logSize = 0;
  #stopping = false;
  readonly #onExit = (): void => {
    if (this.#child?.exitCode === null && this.#child.signalCode === null) this.#child.kill('SIGINT');
  };

  constructor(place: ServerPlace, password: string, address: Address, options: EmbeddedServerOptions) {
    this.#place = place;
    this.#password = password;
    this.#address = address;
    this.#database = options.database ?? DATABASE;
    this.#log = options.log;
    this.connectionString = connectionStringOf(address, password, this.#database);
    process.once('exit', this.#onExit);
  }

  /** Launches the server when none runs, and takes the folder or says who holds it. */
  async hold(): Promise<void> {
    const started = Date.now();
    while (this.#guard === undefined) {
      const answer = await this.#connect();
      if (answer instanceof pg.Client) await this.#takeOver(answer);
      else if (answer === 'absent' && !this.#isRunning()) await this.#launch(started);
      else await sleep(25);
      const limit = answer === 'not ready' || this.#isRunning() ? RECOVERY_MS : PATIENCE_MS;
      if (Date.now() - started > limit) throw this.#fault(`did not become ready in ${limit / 1000} s`);
    }
  }

  async createDatabase(fresh: boolean): Promise<void> {
    const name = pg.escapeIdentifier(this.#database);
    if (fresh) await this.#guard?.query(`drop database if exists ${name} with (force)`);
    const known = await this.#guard?.query('select 1 from pg_database where datname = $1', [this.#database]);
    if (known?.rowCount === 0) await this.#guard?.query(`create database ${name}`);
  }

  async stop(): Promise<void> {
    if (this.#stopping) return;
    this.#stopping = true;
    process.removeListener('exit', this.#onExit);
    await this.#stopServer();
    await this.#guard?.end().catch(() => undefined);
  }

  /** Gives up a start that failed: a server that was launched for it is not left behind. */
  async abandon(): Promise<void> {
    this.#stopping = true;
    process.removeListener('exit', this.#onExit);
    await this.#guard?.end().catch(() => undefined);
    if (this.#isRunning()) await this.#stopServer().catch(() => undefined);
  }

  #isRunning(): boolean {
    return this.#child?.exitCode === null && this.#child.signalCode === null;
  }

  async #connect(): Promise<pg.Client | 'absent' | 'not ready'> {
    const client = new pg.Client({
      ...{ host: this.#address.host, port: this.#address.port, user: USER, password: this.#password },
      ...{
        database: 'postgres',
        application_name: `limbledger ${process.pid}`,
        connectionTimeoutMillis: 5000,
      },
    });
    client.on('error', () => undefined);
    try {
      await client.connect();
      return client;
    } catch (error) {
      if (codeOf(error) === '57P03') return 'not ready';
      if (codeOf(error) === '28P01') throw this.#fault('refuses the password kept beside it');
      return 'absent';
    }
  }

  /** The owner of the lock owns the folder. A server that is not our child was left behind by a killed service. */
  async #takeOver(client: pg.Client): Promise<void> {
    if (!(await tryOwnerLock(client))) {
      const holder = await findOwner(client);
      await client.end();
      throw new EmbeddedServerFault(
        `The data folder ${path.dirname(this.#place.folder)} is held by another running process${holder}: stop it, or set LIMBLEDGER_DATA to another folder.`,
      );
    }
    const running = await readPostmaster(this.#place);
    if (running?.pid === this.#child?.pid && running !== undefined) {
      this.#guardWith(client);
      return;
    }
    this.#log('PostgreSQL was left running by a service that was killed: it is started anew.');
    await this.#stopServer();
    await client.end().catch(() => undefined);
  }

  #guardWith(client: pg.Client): void {
    this.#guard = client;
    client.once('end', () => {
      this.#guard = undefined;
      if (!this.#stopping) void this.#startAgain();
    });
  }

  async #startAgain(): Promise<void> {
    this.#log('PostgreSQL ended unexpectedly: it is started again.');
    try {
      await this.hold();
      this.#log('PostgreSQL runs again.');
    } catch (error) {
      this.#log(`PostgreSQL could not be started again: ${messageOf(error)}.`);
    }
  }

  async #launch(since: number): Promise<void> {
    await this.#checkLastLaunch(since);
    if (this.#stopping) throw this.#fault('is being stopped');
    const file = path.join(this.#place.folder, 'server.log');
    this.#logSize = await startLog(file);
    const output = await open(file, 'a', 0o600);
    if (this.#place.account !== undefined)
      await output.chown(this.#place.account.uid, this.#place.account.gid);
    // In a session of its own: an interrupt at the terminal must reach the service first, not the database.
    this.#child = spawn(this.#place.programs.postgres, this.#settings(), {
      ...{ cwd: this.#place.folder, env: SERVER_ENVIRONMENT, detached: true, windowsHide: true },
      ...{ stdio: ['ignore', output.fd, output.fd], ...identityOf(this.#place.account) },
    });
    const child = this.#child;
    await new Promise<void>((resolve, reject) => {
      child.once('spawn', resolve);
      child.once('error', reject);
    });
    child.unref();
    await output.close();
  }

  /** A launch that failed because a neighbour or leftover is still ending is tried again; any other fault is final. */
  async #checkLastLaunch(since: number): Promise<void> {
    if (this.#child === undefined) return;
    const text = await readFile(path.join(this.#place.folder, 'server.log'), 'utf8').catch(() => '');
    // Of the server itself: its sessions, each with a number of its own, write such lines too.
    const own = new RegExp(`\\[${this.#child.pid ?? 0}\\] FATAL: {2}(.*)$`, 'm');
    const fatal = own.exec(text.slice(this.#logSize))?.[1];
    const passing =
      fatal === undefined || /lock file|shared memory block|data directory .* in use/.test(fatal);
    if (!passing || Date.now() - since > PATIENCE_MS)
      throw this.#fault(`ended at once: ${fatal ?? 'no reason given'}`);
    await sleep(100);
  }

  #settings(): string[] {
    const socket = this.#address.host === this.#place.folder;
    const settings: Readonly<Record<string, string>> = {
      listen_addresses: socket ? '' : this.#address.host,
      port: String(this.#address.port),
      unix_socket_directories: socket ? `"${this.#place.folder.replaceAll('"', '""')}"` : '',
      unix_socket_permissions: '0700',
      max_connections: '100',
      shared_buffers: '256MB',
      wal_compression: 'on',
      max_wal_size: '2GB',
      random_page_cost: '1.1',
      jit: 'off',
      autovacuum_naptime: '10s',
      timezone: 'UTC',
      log_timezone: 'UTC',
      // Errors of statements may quote what patients' records hold: the log keeps what concerns the server only.
      log_min_messages: 'log',
      log_min_error_statement: 'panic',
      log_error_verbosity: 'terse',
      log_checkpoints: 'off',
    };
    const cluster = path.join(this.#place.folder, 'cluster');
    return [
      '-D',
      cluster,
      ...Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`]),
    ];
  }

  async #stopServer(): Promise<void> {
    const cluster = path.join(this.#place.folder, 'cluster');
    await runProgram(this.#place, this.#place.programs.pgCtl, [
      ...['stop', '--pgdata', cluster, '--mode', 'fast', '--wait', '--timeout', '60', '--silent'],
    ]).catch(async (error: unknown) => {
      const running = await readPostmaster(this.#place);
      if (running !== undefined && isAlive(running.pid)) throw error;
    });
  }

  #fault(what: string): EmbeddedServerFault {
    const file = path.join(this.#place.folder, 'server.log');
    return new EmbeddedServerFault(`The embedded PostgreSQL ${what} (see ${file}).`);
  }
}

async function tryOwnerLock(client: pg.Client): Promise<boolean> {
  const { rows } = await client.query<{ held: boolean }>('select pg_try_advisory_lock($1) as held', [
    OWNER_LOCK,
  ]);
  return rows[0]?.held === true;
}

async function findOwner(client: pg.Client): Promise<string> {
  const { rows } = await client.query<{ name: string }>(
    `select application_name as name from pg_stat_activity
     where pid in (select pid from pg_locks where locktype = 'advisory' and objid = $1 and granted)`,
    [OWNER_LOCK],
  );
  const pid = /(\d+)$/.exec(rows[0]?.name ?? '')?.[1];
  return pid === undefined ? '' : ` (process ${pid})`;
}

/** What a running server writes about itself in its folder (PostgreSQL, `postmaster.pid`). */
async function readPostmaster(place: ServerPlace): Promise<{ pid: number; port: number } | undefined> {
  const text = await readFile(path.join(place.folder, 'cluster', 'postmaster.pid'), 'utf8').catch(() => '');
  const lines = text.split('\n');
  const pid = Number(lines[0]);
  const port = Number(lines[3]);
  return pid > 0 && port > 0 ? { pid, port } : undefined;
}

async function startLog(file: string): Promise<number> {
  const size = (await stat(file).catch(() => undefined))?.size ?? 0;
  if (size < LOG_LIMIT_BYTES) return size;
  await truncate(file);
  return 0;
}

async function runProgram(place: ServerPlace, program: string, words: readonly string[]): Promise<void> {
  const child = spawn(program, [...words], {
    ...{ cwd: place.folder, env: SERVER_ENVIRONMENT, windowsHide: true },
    ...{ stdio: ['ignore', 'ignore', 'pipe'], ...identityOf(place.account) },
  });
  let complaint = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => (complaint += text));
  const code = await new Promise<number | null>((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  if (code === 0) return;
  const reason = /error: (.*)/.exec(complaint)?.[1] ?? messageOf(complaint);
  throw new EmbeddedServerFault(`${path.basename(program)} of the embedded PostgreSQL failed: ${reason}.`);
}

function connectionStringOf(address: Address, password: string, database: string): string {
  const host = encodeURIComponent(address.host);
  return `postgresql://${USER}:${password}@/${encodeURIComponent(database)}?host=${host}&port=${address.port}`;
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) === 'EPERM';
  }
}
