import { pathToFileURL } from 'node:url';
import { defineConfig } from 'vitest/config';
import { builtFolder, withThreadsFrom } from './ops/built.mjs';

// Loading the modules anew for every file took twice as long as the tests themselves, so files share their process.
// A test that puts something else in a module's place would change it for the others: its file is named
// `*.apart.test.ts` and has a process of its own (tests/architecture/apart.test.ts).
const files = ['tests/**/*.test.ts', 'tests/**/*.test.tsx'];
const apart = ['tests/**/*.apart.test.ts'];
// What only a command runs: `npm run prove`.
const byCommand = process.env.PROVE ? ['tests/**/*.proof.ts'] : [];

// Threads are those of the built service, as when it really runs: they start several times as fast. While somebody is in the
// middle of a change that cannot be built, other tests still run (tests/running/built.test.ts fails).
const folder = await builtFolder().catch(() => null);
const builtThreads = {
  name: 'built threads',
  transform: (code: string, id: string) =>
    folder && id.includes('/server/') && code.includes('-worker.mjs')
      ? withThreadsFrom(code, JSON.stringify(`${pathToFileURL(folder).href}/`))
      : null,
};

export default defineConfig({
  plugins: [builtThreads],
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    setupFiles: ['tests/support/each-file.ts'],
    // Every payload at every place takes long.
    testTimeout: process.env.PAYLOADS === 'all' ? 3 * 3_600_000 : 60_000,
    hookTimeout: 120_000,
    pool: 'forks',
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        test: { name: 'together', include: [...files, ...byCommand], exclude: apart, isolate: false },
      },
      { extends: true, test: { name: 'apart', include: apart, isolate: true } },
    ],
  },
});
