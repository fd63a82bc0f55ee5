import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { chmod, mkdtemp, readFile, rm } from 'node:fs/promises';
import { createConnection } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const MAIN = path.join(ROOT, 'src', 'cli', 'main.ts');

export type Variables = Readonly<Record<string, string>>;

/** How a process ended, and all that it said until then. */
export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  /** Lines for the person at the terminal. */
  readonly stderr: string;
  /** The log, or the help. */
  readonly stdout: string;
}

/** A service in a process of its own. */
export interface ServiceProcess {
  readonly child: ChildProcess;
  /** The address that it said it listens at. */
  readonly url: string;
  readonly ended: Promise<Ended>;
  /** Sends a signal and waits for the end. */
  end(signal?: NodeJS.Signals): Promise<Ended>;
}

/** The only settings a process gets are those of the test; what else it needs is of the machine. */
function environmentOf(variables: Variables): NodeJS.ProcessEnv {
  const machine = ['PATH', 'HOME', 'TMPDIR', 'LANG', 'TZ', 'SystemRoot', 'LD_LIBRARY_PATH'];
  const kept = machine.flatMap((name) => {
    const value = process.env[name];
    return value === undefined ? [] : [[name, value] as const];
  });
  return { ...Object.fromEntries(kept), ...variables };
}

interface Started {
  readonly child: ChildProcess;
  readonly ended: Promise<Ended>;
  /** Resolves with the address; never when the process ends first. */
  readonly listening: Promise<string>;
}

const started = new Set<ChildProcess>();
process.once('exit', () => {
  for (const child of started) child.kill('SIGKILL');
});

/** What Node is given to run a verb: the sources themselves, so that no built copy need be there. */
export function mainArguments(words: readonly string[]): readonly string[] {
  return ['--import', 'tsx', MAIN, ...words];
}

function start(words: readonly string[], variables: Variables): Started {
  const child = spawn(process.execPath, mainArguments(words), {
    ...{ cwd: ROOT, env: environmentOf(variables), stdio: ['ignore', 'pipe', 'pipe'] },
  });
  started.add(child);
  let stdout = '';
  const stderr: string[] = [];
  child.stdout.setEncoding('utf8').on('data', (text: string) => (stdout += text));
  const listening = new Promise<string>((resolve) => {
    createInterface({ input: child.stderr }).on('line', (line) => {
      stderr.push(line);
      const url = /^Limbledger listens at (\S+)$/.exec(line)?.[1];
      if (url !== undefined) resolve(url);
    });
  });
  const ended = new Promise<Ended>((resolve) => {
    child.once('close', (code, signal) => {
      started.delete(child);
      resolve({ code, signal, stderr: stderr.join('\n'), stdout });
    });
  });
  return { child, ended, listening };
}

/** Starts `serve` and waits until it listens; rejects with what it said when it ends before. */
export async function startService(variables: Variables): Promise<ServiceProcess> {
  const { child, ended, listening } = start(['serve'], { PORT: '0', ...variables });
  const first = await Promise.race([listening, ended]);
  if (typeof first !== 'string') throw new Error(first.stderr);
  const end = async (signal: NodeJS.Signals = 'SIGTERM'): Promise<Ended> => {
    child.kill(signal);
    return ended;
  };
  return { child, url: first, ended, end };
}

/** Runs a verb to its end. */
export async function runVerb(words: readonly string[], variables: Variables = {}): Promise<Ended> {
  return start(words, variables).ended;
}

/** A folder for data, in a folder that any user of the machine may pass through; the next run clears a killed one. */
export async function makeDataFolder(): Promise<{ readonly data: string; remove(): Promise<void> }> {
  const folder = await mkdtemp(path.join(tmpdir(), `limbledger-tests-${process.pid}-`));
  // As root the database runs as another user, who must be able to enter.
  await chmod(folder, 0o755);
  return {
    data: path.join(folder, 'data'),
    remove: () => rm(folder, { recursive: true, force: true, maxRetries: 5 }),
  };
}

/** Process id of the PostgreSQL that runs in a data folder; undefined when none does. */
export async function postmasterOf(data: string): Promise<number | undefined> {
  const file = path.join(data, 'postgres', 'cluster', 'postmaster.pid');
  const pid = Number((await readFile(file, 'utf8').catch(() => '')).split('\n')[0]);
  return pid > 0 ? pid : undefined;
}

/** Waits until nobody listens at an address any more. */
export async function refused(url: string): Promise<void> {
  const { hostname, port } = new URL(url);
  for (;;) {
    const open = await new Promise<boolean>((resolve) => {
      const socket = createConnection(Number(port), hostname);
      socket.once('connect', () => {
        socket.destroy();
        resolve(true);
      });
      socket.once('error', () => {
        resolve(false);
      });
    });
    if (!open) return;
    await sleep(5);
  }
}

/** Sends a JSON value. */
export async function sendJson(
  url: string,
  value: unknown,
  method: 'POST' | 'PUT' = 'POST',
): Promise<Response> {
  return fetch(url, {
    method,
    headers: { 'content-type': url.includes('/fhir/') ? 'application/fhir+json' : 'application/json' },
    body: JSON.stringify(value),
  });
}
