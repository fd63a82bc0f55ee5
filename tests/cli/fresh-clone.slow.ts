import { execFileSync, spawn, spawnSync } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { chownSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { postmasterOf } from './service-process.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

interface Account {
  readonly uid: number;
  readonly gid: number;
}

/** The user whom every system has and who owns nothing. */
function accountOf(name: string): Account | undefined {
  const ask = (what: string): number => Number(spawnSync('id', [what, name], { encoding: 'utf8' }).stdout);
  const [uid, gid] = [ask('-u'), ask('-g')];
  return uid > 0 && gid > 0 ? { uid, gid } : undefined;
}

const nobody = accountOf('nobody');

function registryOf(): string {
  return spawnSync('npm', ['config', 'get', 'registry'], { encoding: 'utf8', cwd: ROOT }).stdout.trim();
}

/** Why this cannot be tried here; undefined where it can. */
function obstacle(): string | undefined {
  if (process.getuid?.() !== 0) return 'only root can clone as root and as another user';
  if (nobody === undefined) return 'there is no user nobody here';
  if (spawnSync(process.execPath, ['--version'], { ...nobody, cwd: '/' }).status !== 0)
    return 'the user nobody may not run this Node';
  if (spawnSync('git', ['-C', ROOT, 'rev-parse', 'HEAD']).status !== 0) return 'this is no git checkout';
  const asked = ['view', 'fastify', 'version', '--fetch-retries=0', '--fetch-timeout=10000'];
  if (spawnSync('npm', asked, { cwd: ROOT }).status !== 0) return 'no npm registry can be reached';
  return undefined;
}

const reason = obstacle();

/** A home of its own, so that nothing a user has set or installed before is used; the registry is the machine's. */
function environmentOf(home: string): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) =>
    /^(PATH|LANG|TZ|LD_LIBRARY_PATH|NODE_EXTRA_CA_CERTS|\w+_proxy)$/i.test(name),
  );
  return {
    ...Object.fromEntries(kept),
    ...{
      HOME: home,
      TMPDIR: home,
      npm_config_cache: path.join(home, 'cache'),
      npm_config_registry: registryOf(),
    },
  };
}

const folders: string[] = [];
afterAll(async () => {
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

async function makeFolder(name: string, mode: number, owner?: Account): Promise<string> {
  const folder = await mkdtemp(path.join(tmpdir(), name));
  folders.push(folder);
  await chmod(folder, mode);
  if (owner !== undefined) chownSync(folder, owner.uid, owner.gid);
  return folder;
}

interface Shown {
  /** Seconds of `npm ci`, and of `npm run demo` until its links were printed. */
  readonly installSeconds: number;
  readonly demoSeconds: number;
  /** What the demo said until its end. */
  readonly said: readonly string[];
}

const seconds = (since: number): number => Math.round((Date.now() - since) / 100) / 10;

/** The README's first command, by a user who has nothing but Node: install, demo, stop. */
async function showDemo(clone: string, home: string, owner?: Account): Promise<Shown> {
  const options = { cwd: clone, env: environmentOf(home), ...owner };
  const installed = Date.now();
  execFileSync('npm', ['ci', '--engine-strict'], { ...options, stdio: 'pipe' });
  const installSeconds = seconds(installed);
  const begun = Date.now();
  // A process group of its own, as at a terminal: npm, its shell and the service.
  const child = spawn('npm', ['run', 'demo'], {
    ...{ ...options, env: { ...options.env, PORT: '0' }, detached: true },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const { said, opened, ended } = follow(child);
  await Promise.race([opened, ended]);
  const demoSeconds = seconds(begun);
  const [, link = ''] = /(http:\S+)/.exec(said.slice(said.indexOf('Open:')).join('\n')) ?? [];
  expect(said, 'the demo ended before it was open').toContain('Open:');
  expect((await fetch(link)).status).toBe(200);
  if (child.pid !== undefined) process.kill(-child.pid, 'SIGTERM');
  await ended;
  return { installSeconds, demoSeconds, said };
}

interface Followed {
  readonly said: string[];
  /** Resolves when the last line of the start is printed. */
  readonly opened: Promise<void>;
  /** Resolves when nobody holds its output any more: npm, its shell and the service are gone. */
  readonly ended: Promise<void>;
}

function follow(child: ChildProcess): Followed {
  const said: string[] = [];
  let text = '';
  const opened = new Promise<void>((resolve) => {
    const take = (chunk: string): void => {
      text += chunk;
      said.splice(0, said.length, ...text.split('\n'));
      if (text.includes('Stop with Ctrl+C')) resolve();
    };
    child.stdout?.setEncoding('utf8').on('data', take);
    child.stderr?.setEncoding('utf8').on('data', take);
  });
  const ended = new Promise<void>((resolve) =>
    child.once('close', () => {
      resolve();
    }),
  );
  return { said, opened, ended };
}

/** Where the data of a demo was kept when the database's user could not enter the clone. */
function dataElsewhere(said: readonly string[]): string | undefined {
  return /the data is kept in (\/\S+)\.$/m.exec(said.join('\n'))?.[1];
}

/** A clean stop takes away the file in which a running PostgreSQL tells of itself; a killed one leaves it. */
async function expectStopped(data: string, said: readonly string[]): Promise<void> {
  expect(await postmasterOf(data)).toBeUndefined();
  expect(said.join('\n')).not.toContain('did not stop cleanly');
}

const figures: Record<string, object> = {};

async function keepFigures(name: string, { installSeconds, demoSeconds }: Shown): Promise<void> {
  figures[name] = { installSeconds, demoSeconds };
  const file = path.join(tmpdir(), 'limbledger-fresh-clone-figures.json');
  await writeFile(file, JSON.stringify(figures, undefined, 2));
}

describe('a fresh clone', () => {
  it('shows the demo to root, from a folder that only root may enter', async ({ skip }) => {
    if (reason !== undefined) skip(reason);
    const folder = await makeFolder('limbledger-root-', 0o700);
    const clone = path.join(folder, 'clone');
    execFileSync('git', ['clone', '--quiet', ROOT, clone]);
    const home = path.join(folder, 'home');
    await mkdir(home);
    const shown = await showDemo(clone, home);
    await keepFigures('root, folder of mode 700', shown);
    const elsewhere = dataElsewhere(shown.said);
    expect(elsewhere, shown.said.join('\n')).toMatch(/^\/var\/lib\/limbledger\//);
    folders.push(elsewhere ?? folder);
    await expectStopped(elsewhere ?? folder, shown.said);
  });

  it('shows the demo to an ordinary user, from a folder with a space in its name', async ({ skip }) => {
    if (reason !== undefined) skip(reason);
    const folder = await makeFolder('limbledger ordinary ', 0o755, nobody);
    const clone = path.join(folder, 'my clone');
    const home = path.join(folder, 'home');
    await mkdir(home);
    execFileSync('git', ['clone', '--quiet', '--no-hardlinks', ROOT, clone]);
    execFileSync('chown', ['-R', `${nobody?.uid ?? 0}:${nobody?.gid ?? 0}`, folder]);
    const shown = await showDemo(clone, home, nobody);
    await keepFigures('ordinary user', shown);
    expect(dataElsewhere(shown.said)).toBeUndefined();
    await expectStopped(path.join(clone, '.limbledger-demo'), shown.said);
  });
});
