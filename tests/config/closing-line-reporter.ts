import type { Reporter, TestModule } from 'vitest/node';

/** Names each skipped test, with the reason where its name does not tell it, then prints the plain closing line `N passed, N failed, N skipped`. */
export class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const counts = { passed: 0, failed: unhandledErrors.length, skipped: 0 };
    const lines: string[] = [];
    for (const module of modules) {
      if (module.errors().length > 0) counts.failed += 1;
      for (const test of module.children.allTests()) {
        const result = test.result();
        if (result.state === 'pending') continue;
        counts[result.state] += 1;
        if (result.state === 'skipped')
          lines.push(`skipped: ${test.fullName}${result.note === undefined ? '' : `: ${result.note}`}`);
      }
    }
    const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : '';
    lines.push(`${counts.passed} passed, ${counts.failed} failed${skipped}`);
    process.stdout.write(`\n${lines.join('\n')}\n`);
  }
}
