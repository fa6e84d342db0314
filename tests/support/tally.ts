import type { SerializedError } from 'vitest';
import type { Reporter, TestModule } from 'vitest/node';

/** Checks that ran before vitest (types, lint), as `passed,failed`: they count in the last line. */
const [before = 0, beforeFailed = 0] = (process.env.CHECKS_BEFORE ?? '').split(',').map(Number);

/** Ends the run with `N passed, N failed[, N skipped]` alone on the last line. */
export default class Tally implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly SerializedError[]): void {
    let passed = before;
    // An error outside every test is a failure of the run.
    let failed = beforeFailed + unhandled.length;
    let skipped = 0;
    for (const module of modules) {
      const results = [...module.children.allTests()].map((test) => test.result().state);
      const failures = results.filter((state) => state === 'failed').length;
      passed += results.filter((state) => state === 'passed').length;
      skipped += results.filter((state) => state === 'skipped' || state === 'pending').length;
      // A file that could not be loaded, or whose set-up failed, has no failed test to show for it.
      failed += failures === 0 && module.state() === 'failed' ? 1 : failures;
    }
    const line = `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
    // At the very end, after every other reporter and every service has had its say.
    process.once('exit', () => process.stdout.write(`${line}\n`));
  }
}
