import type { Sqlite } from '../../server/plumbing/open-database.ts';
import { PlannedFault } from '../support/faults.ts';

type Statement = { readonly: boolean; source: string };
type Method = (this: Statement, ...args: unknown[]) => unknown;

const ways = ['run', 'get', 'all'] as const;

/** What ends a transaction writes no less than what stands in it; what takes it back must work, or nothing is tested. */
const writes = ({ readonly, source }: Statement) =>
  /^\s*(COMMIT|RELEASE)/i.test(source) ||
  !(readonly || /^\s*(BEGIN|SAVEPOINT|ROLLBACK|PRAGMA)/i.test(source));

/**
 * Stands between the service and its database: counts the statements that write, and lets the one with the given number
 * fail. `failAt(0)` only counts.
 */
export function watchWrites(sqlite: Sqlite) {
  const prototype = Object.getPrototypeOf(sqlite.prepare('SELECT 1')) as Record<string, Method>;
  const originals = ways.map((name) => prototype[name]!);
  let count = 0;
  let failing = 0;
  let failed: string | null = null;
  for (const [index, name] of ways.entries()) {
    const original = originals[index]!;
    prototype[name] = function (this: Statement, ...args) {
      if (writes(this)) {
        count += 1;
        if (count === failing) {
          failed = this.source;
          throw new PlannedFault(`write ${count}: ${this.source}`);
        }
      }
      return original.apply(this, args);
    };
  }
  return {
    failAt(number: number) {
      count = 0;
      failing = number;
      failed = null;
    },
    /** How many were asked since, and which of them failed. */
    met: () => ({ count, failed }),
    stop() {
      for (const [index, name] of ways.entries()) prototype[name] = originals[index]!;
    },
  };
}
