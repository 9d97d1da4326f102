import { createHash } from 'node:crypto';
import type { Sqlite } from '../../server/plumbing/open-database.ts';

/** What may change by mere visiting: the notice that was shown, how long a session still lives and its last visit. */
const passing: Record<string, readonly string[]> = { sessions: ['notice', 'expires_at', 'used_at'] };
/** And the log of who read whose data, which is there to be written by reading: tests/people/reads.test.ts looks at it. */
const logs: readonly string[] = ['personal_reads'];

export function tableNames(sqlite: Sqlite): string[] {
  const rows = sqlite
    .prepare(
      "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
    )
    .all() as { name: string }[];
  return rows.map(({ name }) => name);
}

/** A print of every table's rows, by table; two that are equal hold the same. */
export function contentsOf(sqlite: Sqlite): Record<string, string> {
  const prints: Record<string, string> = {};
  for (const name of tableNames(sqlite).filter((one) => !logs.includes(one))) {
    const hash = createHash('sha256');
    for (const row of sqlite.prepare(`SELECT * FROM "${name}"`).iterate() as Iterable<
      Record<string, unknown>
    >) {
      for (const column of passing[name] ?? []) delete row[column];
      hash.update(JSON.stringify(row));
    }
    prints[name] = hash.digest('hex');
  }
  return prints;
}
