import { defineConfig } from 'vitest/config'; // eslint-disable-line no-restricted-imports -- the tool demands a default export

// eslint-disable-next-line import/no-default-export
export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    testTimeout: 30_000,
    hookTimeout: 120_000,
  },
});
