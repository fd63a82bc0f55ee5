import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { createInterface } from 'node:readline';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const SCRIPT = fileURLToPath(new URL('crash-writer.ts', import.meta.url));
const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface RunningWriter {
  readonly child: ChildProcess;
  /** Ids told by transactions that were committed. */
  readonly acknowledged: readonly (readonly string[])[];
  /** What the server had to say, line by line. */
  readonly said: readonly string[];
  /** Ends when the writer does. */
  readonly ended: Promise<void>;
}

/** Starts the writer in a process of its own and waits until it writes; rejects with what it said when it ends before. */
export async function startWriter(
  dataFolder: string,
  options: { readonly uid?: number; readonly gid?: number; readonly root?: string } = {},
): Promise<RunningWriter> {
  const { root = ROOT, ...identity } = options;
  const script = SCRIPT.replace(ROOT, root.endsWith('/') ? root : `${root}/`);
  const child = spawn(process.execPath, ['--import', 'tsx', script, dataFolder], {
    ...{ cwd: root, stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, TSX_DISABLE_CACHE: '1' } },
    ...identity,
  });
  const acknowledged: string[][] = [];
  const said: string[] = [];
  const ended = new Promise<void>((resolve) =>
    child.once('close', () => {
      resolve();
    }),
  );
  child.stderr.setEncoding('utf8').on('data', (text: string) => said.push(text));
  await new Promise<void>((resolve, reject) => {
    createInterface({ input: child.stdout }).on('line', (line) => {
      if (line.startsWith('done ')) acknowledged.push(line.slice(5).split(' '));
      else if (line === 'ready') resolve();
      else said.push(line);
    });
    void ended.then(() => {
      reject(new Error(said.join('\n')));
    });
  });
  return { child, acknowledged, said, ended };
}

/** Kills the writer as a power cut would, after a while of writing. */
export async function killAfter(writer: RunningWriter, milliseconds: number): Promise<void> {
  await sleep(milliseconds);
  writer.child.kill('SIGKILL');
  await writer.ended;
}
