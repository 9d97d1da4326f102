import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { builtFolder, clearShelf, withThreadsFrom } from '../../ops/built.mjs';
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

  it('stays while somebody runs from it, however many were built since', async () => {
    expect(existsSync(join(await builtFolder(), 'used-by', String(process.pid)))).toBe(true);
    const shelf = mkdtempSync(join(tmpdir(), 'built-'));
    const make = (name: string, daysOld: number, ...users: number[]) => {
      mkdirSync(join(shelf, name, 'used-by'), { recursive: true });
      for (const pid of users) writeFileSync(join(shelf, name, 'used-by', String(pid)), '');
      utimesSync(join(shelf, name), Date.now() / 1000, Date.now() / 1000 - daysOld * 86_400);
    };
    const gone = spawnSync(process.execPath, ['-e', '']).pid;
    make('used', 9, process.pid, gone);
    make('left', 8, gone);
    make('never used', 7);
    for (const name of ['one', 'two', 'three', 'four']) make(name, 1);
    clearShelf(shelf);
    expect(readdirSync(shelf).sort()).toEqual(['four', 'one', 'three', 'two', 'used']);
    rmSync(shelf, { recursive: true });
  });

  it('starts its threads from the built ones, and leaves every other address as it is', () => {
    const source = "new URL('./print-worker.mjs', import.meta.url); new URL('../static', import.meta.url)";
    expect(withThreadsFrom(source, "'file:///b/'")).toBe(
      "new URL('./print-worker.js', 'file:///b/'); new URL('../static', import.meta.url)",
    );
  });
});
