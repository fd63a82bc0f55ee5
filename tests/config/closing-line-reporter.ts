import type { Reporter, TestModule } from 'vitest/node';

/** Prints the plain closing line `N passed, N failed, N skipped` that runners and people read. */
export class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const counts = { passed: 0, failed: unhandledErrors.length, skipped: 0 };
    for (const module of modules) {
      if (module.errors().length > 0) counts.failed += 1;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state !== 'pending') counts[state] += 1;
      }
    }
    const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : '';
    process.stdout.write(`\n${counts.passed} passed, ${counts.failed} failed${skipped}\n`);
  }
}
