import { afterEach, beforeEach, expect, vi } from 'vitest';

/** Printing to the console fails a test: the service speaks through its logger and its answers alone. */
const METHODS = ['log', 'info', 'warn', 'error', 'debug'] as const;

beforeEach(() => {
  for (const method of METHODS) vi.spyOn(console, method);
});

afterEach(() => {
  for (const method of METHODS) {
    const { calls } = vi.mocked(console[method]).mock;
    vi.mocked(console[method]).mockRestore();
    expect(calls, `console.${method} was called`).toEqual([]);
  }
});
