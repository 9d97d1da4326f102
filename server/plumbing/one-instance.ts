import { chmodSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { Database } from './sqlite-driver.ts';

/** Somebody else works on this folder; the message says who. */
export class AlreadyInUse extends Error {}

const lockName = 'in-use.lock';
const holderName = 'in-use.json';

function holderOf(folder: string): string {
  try {
    const { pid, machine, what } = JSON.parse(readFileSync(join(folder, holderName), 'utf8')) as Record<
      string,
      unknown
    >;
    return `${String(what)}, process ${String(pid)} on ${String(machine)}`;
  } catch {
    return 'another process';
  }
}

/**
 * Takes a data folder for this process alone. The lock is one of SQLite's own on an empty file: the system gives it
 * back by itself when the process ends, however it ends, so none is ever left behind. Throws AlreadyInUse.
 */
export function holdFolder(folder: string, what: string): { release: () => void } {
  const file = join(folder, lockName);
  const lock = new Database(file, { timeout: 0 });
  const holder = join(folder, holderName);
  try {
    chmodSync(file, 0o600);
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock.close();
    if ((error as { code?: string }).code?.startsWith('SQLITE_BUSY'))
      throw new AlreadyInUse(
        `${folder} is in use (${holderOf(folder)}). Only one service may work on a data folder: stop that one first, or give this one a DATA_DIR of its own.`,
      );
    throw error;
  }
  rmSync(holder, { force: true });
  writeFileSync(holder, JSON.stringify({ what, pid: process.pid, machine: hostname() }), { mode: 0o600 });
  return {
    release: () => {
      rmSync(holder, { force: true });
      lock.close();
    },
  };
}
