import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, test } from 'vitest';

const script = fileURLToPath(new URL('validate.ts', import.meta.url));

/** Runs the benchmark on the sources, as briefly as it can. */
async function run(...options: readonly string[]): Promise<string> {
  const { stdout } = await promisify(execFile)(process.execPath, ['--import', 'tsx', script, ...options]);
  return stdout;
}

interface Results {
  readonly results: readonly {
    readonly validator: string;
    readonly subjects: readonly { readonly perSecond: number; readonly verdict: string }[];
    readonly faults: readonly { readonly fault: string; readonly verdict: string }[];
  }[];
}

test('the benchmark measures every validator on every resource, and ours alone is right on all', async () => {
  const { results } = JSON.parse(await run('--short', '--source', '--json')) as Results;
  expect(results.map(({ validator }) => validator)).toHaveLength(4);
  for (const { subjects } of results) {
    expect(subjects).toHaveLength(6);
    expect(subjects.filter(({ perSecond, verdict }) => !(perSecond > 0) || verdict !== 'valid')).toEqual([]);
  }
  const missed = results.map(({ faults }) => faults.filter(({ verdict }) => verdict !== 'invalid'));
  // What only a profile forbids, base R4 allows.
  expect(missed[0]?.map(({ fault }) => fault)).toEqual(['profile: right by its code, left by its site']);
  expect(missed[1]).toEqual([]);
}, 120_000);

test('the benchmark says how it is used', async () => {
  expect(await run('--help')).toContain('npm run bench:validate');
});
