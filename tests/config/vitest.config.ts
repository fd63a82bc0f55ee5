import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { ClosingLineReporter } from './closing-line-reporter.js';

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('../..', import.meta.url)),
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/config/global-setup.ts'],
    setupFiles: ['tests/config/quiet-console.ts'],
    reporters: ['default', new ClosingLineReporter()],
    testTimeout: 30_000,
    hookTimeout: 120_000,
  },
});
