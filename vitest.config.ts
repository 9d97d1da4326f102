import { defineConfig } from 'vitest/config';

// Loading the modules anew for every file took twice as long as the tests themselves, so files share their process.
// A test that puts something else in a module's place would change it for the others: its file is named
// `*.apart.test.ts` and has a process of its own (tests/architecture/apart.test.ts).
const files = ['tests/**/*.test.ts', 'tests/**/*.test.tsx'];
const apart = ['tests/**/*.apart.test.ts'];

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    setupFiles: ['tests/support/seed.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    pool: 'forks',
    maxWorkers: 2,
    projects: [
      { extends: true, test: { name: 'together', include: files, exclude: apart, isolate: false } },
      { extends: true, test: { name: 'apart', include: apart, isolate: true } },
    ],
  },
});
