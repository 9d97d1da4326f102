import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { MigrationError, migrate, migrationsFolder, readMigrations } from '../../server/plumbing/migrate.ts';
import { type Sqlite, wrapDatabase } from '../../server/plumbing/open-database.ts';
import { Database } from '../../server/plumbing/sqlite-driver.ts';
import { tableNames } from '../support/contents.ts';
import { fillings, stillEmpty } from './filled.ts';

const all = readMigrations();
const newest = Math.max(...all.map(({ number }) => number));
const folders: string[] = [];
const open: Sqlite[] = [];

afterEach(() => {
  for (const sqlite of open.splice(0)) sqlite.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

/** A folder with the migrations up to a number, and others that a test adds. */
function folderUpTo(number: number, others: Record<string, string> = {}): string {
  const folder = mkdtempSync(join(tmpdir(), 'migrations-'));
  folders.push(folder);
  for (const one of all.filter((migration) => migration.number <= number))
    copyFileSync(join(migrationsFolder, one.name), join(folder, one.name));
  for (const [name, sql] of Object.entries(others)) writeFileSync(join(folder, name), sql);
  return folder;
}

/** A database as it was at a schema, with something in every table. */
function filledAt(number: number): { sqlite: Sqlite; folder: string } {
  const { sqlite } = wrapDatabase(new Database(':memory:'));
  open.push(sqlite);
  for (const { number: step } of all.filter((migration) => migration.number <= number)) {
    migrate(sqlite, 1000, { folder: folderUpTo(step) });
    sqlite.exec(fillings[step] ?? '');
  }
  return { sqlite, folder: folderUpTo(number) };
}

const columnsOf = (sqlite: Sqlite, table: string) =>
  (sqlite.prepare('SELECT name FROM pragma_table_info(?)').all(table) as { name: string }[]).map(
    ({ name }) => name,
  );

/** All rows of all tables, by the columns that are asked for. */
function rowsOf(sqlite: Sqlite, columns: Record<string, string[]>): Record<string, unknown[]> {
  return Object.fromEntries(
    Object.entries(columns).map(([table, names]) => [
      table,
      sqlite
        .prepare(`SELECT ${names.map((name) => `"${name}"`).join(', ')} FROM "${table}" ORDER BY 1, 2`)
        .all(),
    ]),
  );
}

describe('migrations', () => {
  it('are numbered without gaps and say why', () => {
    expect(all.map(({ number }) => number)).toEqual(all.map((_, index) => index + 1));
    for (const { name, sql } of all) {
      expect(name).toMatch(/^\d{4}-[a-z0-9-]+\.sql$/);
      expect(sql).toMatch(/^-- Why: \S/);
    }
  });

  it.each(all.map(({ number, name }) => [name, number] as const))(
    'bring every row of a database as old as %s along',
    (_name, number) => {
      const { sqlite } = filledAt(number);
      const tables = tableNames(sqlite).filter((name) => name !== 'migrations');
      const columns = Object.fromEntries(tables.map((table) => [table, columnsOf(sqlite, table)]));
      const before = rowsOf(sqlite, columns);
      for (const [table, rows] of Object.entries(before))
        if (!stillEmpty[number]?.includes(table))
          expect(rows, `no rows in ${table}: add some to filled.ts`).not.toHaveLength(0);

      const done = migrate(sqlite, 2000);
      expect(done).toEqual({ from: number, to: newest });
      expect(rowsOf(sqlite, columns)).toEqual(before);
      expect(sqlite.pragma('foreign_key_check')).toEqual([]);
      expect(sqlite.pragma('integrity_check', { simple: true })).toBe('ok');
      expect(sqlite.pragma('foreign_keys', { simple: true })).toBe(1);
    },
  );

  // SQLite, "Making Other Kinds Of Table Schema Changes" (lang_altertable.html, section 7): foreign keys must be off
  // while a table is rebuilt, and the pragma does nothing inside a transaction.
  it('that rebuild a table leave the rows that belong to it', () => {
    const { sqlite } = filledAt(newest);
    const rebuild = `-- Why: a test.
      CREATE TABLE people_new AS SELECT * FROM people WHERE 0;
      DROP TABLE people_new;
      CREATE TABLE people_new (id TEXT PRIMARY KEY, sign_in_name TEXT NOT NULL, name TEXT NOT NULL, role TEXT NOT NULL,
        password_hash TEXT NOT NULL, active INTEGER NOT NULL, scheme TEXT NOT NULL, made_at INTEGER NOT NULL,
        made_by TEXT REFERENCES people (id)) STRICT;
      INSERT INTO people_new SELECT * FROM people;
      DROP TABLE people;
      ALTER TABLE people_new RENAME TO people;`;
    const before = sqlite.prepare('SELECT count(*) FROM sessions').pluck().get();
    migrate(sqlite, 3000, { folder: folderUpTo(newest, { [`${pad(newest + 1)}-rebuild.sql`]: rebuild }) });
    expect(before).toBe(1);
    expect(sqlite.prepare('SELECT count(*) FROM sessions').pluck().get()).toBe(1);
    expect(sqlite.prepare('SELECT count(*) FROM known_devices').pluck().get()).toBe(1);
    expect(sqlite.prepare('SELECT count(*) FROM people').pluck().get()).toBe(2);
  });

  it('that fail, or would leave a row without its parent, change nothing', () => {
    const { sqlite } = filledAt(newest);
    const before = sqlite.serialize();
    for (const sql of [
      '-- Why: a test.\nDELETE FROM sessions; INSERT INTO nowhere VALUES (1);',
      '-- Why: a test.\nDROP TRIGGER orders_are_kept; DELETE FROM orders;',
    ]) {
      const folder = folderUpTo(newest, { [`${pad(newest + 1)}-wrong.sql`]: sql });
      expect(() => migrate(sqlite, 3000, { folder })).toThrow();
      expect(sqlite.serialize().equals(before)).toBe(true);
      expect(sqlite.pragma('foreign_keys', { simple: true })).toBe(1);
    }
  });

  it('that were changed after they had been applied are refused', () => {
    const { sqlite } = filledAt(newest);
    const [first] = all;
    const folder = folderUpTo(newest, { [first?.name ?? '']: `${first?.sql}\n-- changed` });
    expect(() => migrate(sqlite, 3000, { folder })).toThrow(MigrationError);
    expect(() => migrate(sqlite, 3000, { folder })).toThrow(/was changed after it had been applied/);
  });

  it('are not undone by an older program: it refuses a newer database', () => {
    const { sqlite } = filledAt(newest);
    const before = sqlite.serialize();
    expect(() => migrate(sqlite, 3000, { folder: folderUpTo(newest - 1) })).toThrow(
      new RegExp(`schema ${newest}, this program knows only up to ${newest - 1}`),
    );
    expect(sqlite.serialize().equals(before)).toBe(true);
  });

  it('are done once', () => {
    const { sqlite, folder } = filledAt(newest);
    const before = sqlite.serialize();
    expect(migrate(sqlite, 3000, { folder })).toEqual({ from: newest, to: newest });
    expect(sqlite.serialize().equals(before)).toBe(true);
  });
});

const pad = (number: number) => String(number).padStart(4, '0');
