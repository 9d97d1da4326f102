import { getTableConfig, SQLiteTable } from 'drizzle-orm/sqlite-core';
import type { Opened } from '../../server/plumbing/open-database.ts';
import * as tables from '../../server/schema/tables.ts';

type Bench = Pick<Opened, 'sqlite'>;

const tablesOf = () =>
  Object.values(tables)
    .filter((table) => table instanceof SQLiteTable)
    .map((table) => getTableConfig(table))
    // A view cannot be written into.
    .filter(({ columns }) => columns.length > 0);

/** Columns that the program made up itself or that stand for something it knows: no text of anybody's gets there. */
const ours =
  /(_hash|_on|_at|^id|_id|_key|^hash|^chain|^salt|^secret|^state|^kind|^form_key|^path|^locale|^time_zone|^currency|^country|^language|^number|^sha256|^code|^message_id|^basis|_json|^shelf_order|^via|^password_print|_code|_day|^as_of|^ventilation|_region)$/;

/** Tables that only the program writes words of its own into. */
const madeUp: readonly string[] = ['sessions', 'migrations', 'form_keys', 'personal_reads'];

export type Column = { table: string; name: string };

/** Columns of text that take any words: each is tried, so that a new one is found by itself. */
export function openColumns({ sqlite }: Bench): Column[] {
  const found: Column[] = [];
  for (const { name: table, columns } of tablesOf())
    for (const column of columns) {
      if (column.getSQLType() !== 'text' || column.enumValues || ours.test(column.name)) continue;
      if (madeUp.includes(table)) continue;
      sqlite.exec('SAVEPOINT tried');
      try {
        const write = sqlite.prepare(`UPDATE "${table}" SET "${column.name}" = ?`);
        if (write.run('<b> =1+1').changes > 0) found.push({ table, name: column.name });
      } catch {
        // A check or a key of the database says what may stand there.
      }
      sqlite.exec('ROLLBACK TO tried; RELEASE tried');
    }
  return found;
}

/** The rules that keep facts as they were written, and uniqueness of names, would be in the way. */
export function unguarded({ sqlite }: Bench) {
  const named = (type: string) =>
    sqlite.prepare(`SELECT name FROM sqlite_schema WHERE type = '${type}' AND sql IS NOT NULL`).pluck().all();
  for (const trigger of named('trigger'))
    if (!/words/.test(String(trigger))) sqlite.exec(`DROP TRIGGER "${trigger}"`);
}

export function fill({ sqlite }: Bench, columns: readonly Column[], textAt: (at: number) => string) {
  for (const [at, { table, name }] of columns.entries())
    try {
      sqlite.prepare(`UPDATE "${table}" SET "${name}" = ?`).run(textAt(at));
    } catch {
      // Two rows may not have one name, or it may not be as long: what stood there stays.
      sqlite
        .prepare(`UPDATE OR IGNORE "${table}" SET "${name}" = substr(?, 1, 60) || abs(random() % 1000000)`)
        .run(textAt(at));
    }
}

/** Not files, nor what no person looks at. */
export const isShown = (path: string) =>
  !path.endsWith('.pdf') && !path.startsWith('/static') && path !== '/sw.js';
