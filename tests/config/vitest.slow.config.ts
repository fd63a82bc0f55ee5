import { defineConfig } from 'vitest/config';
import fast from './vitest.config.js';

/** The suites that take minutes: crash loops, fresh clones. Files end in `.slow.ts`. */
export default defineConfig({
  test: { ...fast.test, include: ['tests/**/*.slow.ts'], testTimeout: 600_000, hookTimeout: 300_000 },
});
