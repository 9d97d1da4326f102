import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { builtFolder, withThreadsFrom } from '../../ops/built.mjs';
import { filesUnder } from '../architecture/sources.ts';

describe('the built service', () => {
  it('is made once for the same sources, with every thread in it', async () => {
    const folder = await builtFolder();
    expect(await builtFolder()).toBe(folder);
    const threads = filesUnder('server', /-worker\.mjs$/).map((path) => basename(path, '.mjs'));
    expect(threads.length).toBeGreaterThan(5);
    const missing = ['main', ...threads].filter((name) => !existsSync(join(folder, `${name}.js`)));
    expect(missing).toEqual([]);
  });

  it('starts its threads from the built ones, and leaves every other address as it is', () => {
    const source = "new URL('./print-worker.mjs', import.meta.url); new URL('../static', import.meta.url)";
    expect(withThreadsFrom(source, "'file:///b/'")).toBe(
      "new URL('./print-worker.js', 'file:///b/'); new URL('../static', import.meta.url)",
    );
  });
});
