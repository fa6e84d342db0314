import { defineConfig } from 'vitest/config';

/** Tests that need a database, a queue or a child process. The rest needs nothing but the machine's own time. */
const WHOLE = [
  'tests/shared/db/**/*.test.ts',
  'tests/shared/queues*.test.ts',
  'tests/server/**/*.test.ts',
  'tests/workers/**/*.test.ts',
  'tests/faults/**/*.test.ts',
  'tests/journey*.test.ts',
  'tests/journey/**/*.test.ts',
];
/** Tests that drive Chromium. */
const BROWSER = ['tests/browser/**/*.test.ts', 'tests/**/*.browser.test.{ts,tsx}'];

/** A hung test must end some day; no test is decided by how fast the machine is. */
const PATIENCE_MS = 180_000;

const services = './tests/support/runServices.ts';
const root = new URL('..', import.meta.url).pathname;

const shared = { root, testTimeout: PATIENCE_MS, hookTimeout: PATIENCE_MS, teardownTimeout: PATIENCE_MS };

export default defineConfig({
  root,
  // Vite's own cache beside the packages, not in the tree.
  cacheDir: 'node_modules/.vite',
  test: {
    reporters: ['default', './tests/support/tally.ts'],
    maxWorkers: 2,
    projects: [
      {
        test: {
          ...shared,
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [...WHOLE, ...BROWSER],
          setupFiles: [],
        },
      },
      { test: { ...shared, name: 'whole', include: WHOLE, exclude: BROWSER, globalSetup: [services] } },
      { test: { ...shared, name: 'browser', include: BROWSER, globalSetup: [services] } },
    ],
  },
});
