import { afterEach, beforeEach, expect, vi } from 'vitest';
import type { MockInstance } from 'vitest';

/** Printing to the console fails a test: the service speaks through its logger and its answers alone. */
let spies: readonly MockInstance[] = [];

beforeEach(() => {
  spies = (['log', 'info', 'warn', 'error', 'debug'] as const).map((method) => vi.spyOn(console, method));
});

afterEach(() => {
  const calls = spies.flatMap(({ mock }) => mock.calls);
  for (const spy of spies) spy.mockRestore();
  expect(calls, 'something was printed to the console').toEqual([]);
});
