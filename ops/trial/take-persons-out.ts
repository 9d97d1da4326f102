import { createHash } from 'node:crypto';
import { chmodSync } from 'node:fs';
import sharp from 'sharp';
import { faultOf } from '../../server/backups/inspect.ts';
import { openCopy, type Sqlite } from '../../server/plumbing/open-database.ts';
import { trialMark } from '../../server/plumbing/trial-mark.ts';
import { emptied, invented, kept } from './keeps.ts';

type Column = { name: string; type: string };

const quoted = (name: string) => `"${name.replaceAll('"', '""')}"`;

/** SQLite's own notes to plan by hold values of indexes (ANALYZE): they are made anew of what is left. */
function planAnew(sqlite: Sqlite): void {
  const notes = sqlite
    .prepare("SELECT name FROM sqlite_schema WHERE name LIKE 'sqlite!_stat%' ESCAPE '!'")
    .pluck();
  const names = notes.all().map((name) => quoted(String(name)));
  for (const name of names) sqlite.exec(`DELETE FROM ${name}`);
  if (names.length > 0) sqlite.exec('ANALYZE');
}

/** Every table of ours; those of a search index are made anew from what is left. */
function tablesOf(sqlite: Sqlite): { name: string; sql: string }[] {
  return sqlite
    .prepare(
      `SELECT name, sql FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!'
        AND name NOT IN (SELECT name FROM pragma_table_list WHERE type IN ('virtual', 'shadow')) ORDER BY name`,
    )
    .all() as { name: string; sql: string }[];
}

/** Whether the database lets nothing in but a word of a list, or a day: nobody's text can stand there. */
const isBounded = (sql: string, column: string) =>
  new RegExp(`\\b${column} (IN \\(\\s*'|GLOB '\\[0-9\\]\\[0-9\\])`).test(sql);

/** Columns whose text goes, of a table that stays. */
export function columnsToReplace(sqlite: Sqlite, { name, sql }: { name: string; sql: string }): Column[] {
  const ids = sqlite.prepare('SELECT "from" FROM pragma_foreign_key_list(?)').pluck().all(name);
  const named = (kept[name] ?? '').split(' ');
  return (sqlite.prepare('SELECT name, type FROM pragma_table_info(?)').all(name) as Column[]).filter(
    (column) =>
      (column.type === 'TEXT' || column.type === 'BLOB') &&
      !ids.includes(column.name) &&
      !named.includes(column.name) &&
      !isBounded(sql, column.name),
  );
}

/** What stands in its place: whether there was something at all may be seen, since forms and rules go by it. */
function standIn({ name, type }: Column): string {
  const column = quoted(name);
  if (type === 'BLOB') return `zeroblob(length(${column}))`;
  return `iif(${column} IS NULL OR ${column} = '', ${column}, 'left out')`;
}

function replaceIn(sqlite: Sqlite, table: { name: string; sql: string }): void {
  const own = invented[table.name] ?? {};
  const all: Record<string, string> = { ...own };
  for (const column of columnsToReplace(sqlite, table)) all[column.name] ??= standIn(column);
  const changes = Object.entries(all).map(([name, value]) => `${quoted(name)} = ${value}`);
  if (changes.length > 0) sqlite.exec(`UPDATE ${quoted(table.name)} SET ${changes.join(', ')}`);
}

async function teachPicture(sqlite: Sqlite): Promise<void> {
  const grey = { width: 640, height: 480, channels: 3, background: '#8a8a80' } as const;
  const picture = await sharp({ create: grey }).jpeg().toBuffer();
  const sha256 = createHash('sha256').update(picture).digest('hex');
  sqlite.function('plain_picture', { directOnly: true }, () => picture);
  sqlite.function('plain_picture_sha256', { directOnly: true }, () => sha256);
}

/** The rules that keep facts as they were written would be in the way; they are put back as they were. */
function withoutTriggers(sqlite: Sqlite, work: () => void): void {
  const triggers = sqlite.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").all() as {
    name: string;
    sql: string;
  }[];
  for (const { name } of triggers) sqlite.exec(`DROP TRIGGER ${quoted(name)}`);
  work();
  for (const { sql } of triggers) sqlite.exec(sql);
}

/**
 * Takes everybody out of a database that nobody uses, and writes what is left to another file, which holds no page of the
 * first. Throws where the result would not hold together.
 */
export async function takePersonsOut(from: string, to: string): Promise<void> {
  const sqlite = openCopy(from, { readonly: false });
  try {
    sqlite.pragma('foreign_keys = OFF');
    sqlite.pragma('secure_delete = ON');
    await teachPicture(sqlite);
    sqlite.transaction(() =>
      withoutTriggers(sqlite, () => {
        for (const name of emptied) sqlite.exec(`DELETE FROM ${quoted(name)}`);
        for (const table of tablesOf(sqlite)) if (!emptied.includes(table.name)) replaceIn(sqlite, table);
        const indexes = sqlite.prepare("SELECT name FROM pragma_table_list WHERE type = 'virtual'").pluck();
        for (const index of indexes.all().map((name) => quoted(String(name))))
          sqlite.exec(`INSERT INTO ${index} (${index}) VALUES ('rebuild')`);
      }),
    )();
    planAnew(sqlite);
    const fault = faultOf(sqlite);
    if (fault) throw new Error(`Without persons the copy does not hold together: ${fault}.`);
    sqlite.pragma(`application_id = ${trialMark}`);
    sqlite.prepare('VACUUM INTO ?').run(to);
    chmodSync(to, 0o600);
  } finally {
    sqlite.close();
  }
}
