import { createHash } from 'node:crypto';
import type { Sqlite } from '../../server/plumbing/open-database.ts';

type Statement = { run: unknown; get: unknown; all: unknown; source: string };
type Method = (this: Statement, ...args: unknown[]) => unknown;

export class PlannedFault extends Error {}

/** The whole database as one number: equal before and after means that nothing at all is left of what was tried. */
export const printOf = (sqlite: Sqlite) => createHash('sha256').update(sqlite.serialize()).digest('hex');

/**
 * Runs `work` and lets the statement with the given number fail (counted from 1, over all that are run, COMMIT too).
 * True when it failed, false when the work was done with fewer statements.
 */
export function withFaultAt(sqlite: Sqlite, at: number, work: () => void): boolean {
  const prototype = Object.getPrototypeOf(sqlite.prepare('SELECT 1')) as Record<string, Method>;
  const names = ['run', 'get', 'all'] as const;
  const originals = names.map((name) => prototype[name]!);
  let count = 0;
  for (const [index, name] of names.entries()) {
    const original = originals[index]!;
    prototype[name] = function (this: Statement, ...args) {
      // A rollback must work, or the test would test nothing.
      if (!/^\s*ROLLBACK/i.test(this.source)) {
        count += 1;
        if (count === at) throw new PlannedFault(`statement ${at}: ${this.source}`);
      }
      return original.apply(this, args);
    };
  }
  try {
    work();
    return false;
  } catch (error) {
    if (error instanceof PlannedFault) return true;
    throw error;
  } finally {
    for (const [index, name] of names.entries()) prototype[name] = originals[index]!;
  }
}
