import { execFile } from 'node:child_process';
import { chmod, cp, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { killAfter, startWriter } from './killed-service.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

it.runIf(process.getuid?.() === 0)(
  'root starts the embedded server from a checkout that only root may enter, twice, and finds the data again',
  async () => {
    const closed = await mkdtemp(path.join(tmpdir(), 'limbledger-closed-'));
    await chmod(closed, 0o700);
    const root = path.join(closed, 'checkout');
    for (const name of ['src', 'migrations', 'tests', 'package.json', 'tsconfig.json']) {
      await cp(path.join(ROOT, name), path.join(root, name), { recursive: true });
    }
    await promisify(execFile)('cp', ['-a', path.join(ROOT, 'node_modules'), root]);
    const first = await startWriter('.limbledger', { root });
    await killAfter(first, 300);
    expect(first.acknowledged.length).toBeGreaterThan(0);
    const second = await startWriter('.limbledger', { root });
    await killAfter(second, 100);
    expect(second.said.join('\n')).toContain('the data is kept in /var/lib/limbledger/checkout-');
    expect(second.said.join('\n')).toContain('killed: it is started anew');
    const data = /kept in (\S+)\./.exec(second.said.join('\n'))?.[1] ?? '';
    const pidFile = path.join(data, 'postgres', 'cluster', 'postmaster.pid');
    process.kill(Number((await readFile(pidFile, 'utf8')).split('\n')[0]), 'SIGQUIT');
    for (const folder of [data, closed])
      await rm(folder, { recursive: true, maxRetries: 9, retryDelay: 200 });
  },
);
