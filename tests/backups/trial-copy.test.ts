import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { getTableColumns } from 'drizzle-orm';
import { getTableConfig } from 'drizzle-orm/sqlite-core';
import { afterAll, describe, expect, it } from 'vitest';
import { kept } from '../../ops/trial/keeps.ts';
import { columnsToReplace } from '../../ops/trial/take-persons-out.ts';
import { linkByToken } from '../../server/arrivals/queries-links.ts';
import { readConfig } from '../../server/config.ts';
import { personalTables } from '../../server/customers/queries-personal.ts';
import { systemClock } from '../../server/plumbing/clock.ts';
import { openCopy, openDatabase, type Sqlite } from '../../server/plumbing/open-database.ts';
import { prepare } from '../../server/prepare.ts';
import { fill, openColumns, unguarded } from '../support/stored-text.ts';
import { testNow } from '../support/test-app.ts';
import { backupOf, clearFolders, filledFolder, freshFolder, run } from './shelf.ts';

afterAll(clearFolders);

const triggersOf = (sqlite: Sqlite) =>
  sqlite
    .prepare("SELECT name, sql FROM sqlite_schema WHERE type IN ('trigger', 'index') ORDER BY name")
    .all();

/** Words that stand nowhere else, in every column that takes words, and in every picture and file. */
function plant(database: string) {
  const { sqlite } = openDatabase(database);
  const t = { sqlite };
  const triggers = triggersOf(sqlite) as { name: string; sql: string | null }[];
  unguarded(t);
  const columns = openColumns(t);
  const textAt = (at: number) => `qzx${String(at).padStart(3, '0')}w @example.org`;
  fill(t, columns, textAt);
  for (const blob of ['arrival_photo_files', 'count_photo_files', 'import_drafts'])
    sqlite.exec(`UPDATE ${blob} SET bytes = CAST('qzx-of-${blob}' AS BLOB)`);
  for (const { name, sql } of triggers)
    if (sql && sqlite.prepare('SELECT 1 FROM sqlite_schema WHERE name = ?').get(name) === undefined)
      sqlite.exec(sql);
  // SQLite keeps samples of indexes then, names among them
  sqlite.exec('ANALYZE');
  sqlite.close();
  return columns.map((column, at) => ({ ...column, text: textAt(at).slice(0, 7) }));
}

const keepsOf = (table: string) => (kept[table] ?? '').split(' ');

describe('a copy without persons', () => {
  it('holds no byte of any text but of those named, nothing that opens anything, and the same rows and rules', async () => {
    const { dir, database, at } = await filledFolder();
    const planted = plant(database);
    expect(planted.length).toBeGreaterThan(75);
    const to = join(freshFolder(), 'trial');
    expect(await run('trial-copy', ['--to', to], { DATA_DIR: dir })).toMatchObject({ code: 0, errors: '' });
    expect(readdirSync(to)).toEqual(['broodbench.db']);
    expect([statSync(to).mode & 0o777, statSync(join(to, 'broodbench.db')).mode & 0o777]).toEqual([
      0o700, 0o600,
    ]);
    const bytes = readFileSync(join(to, 'broodbench.db'));
    const left = planted.filter(({ text }) => bytes.includes(text));
    expect(left.filter(({ table, name }) => !keepsOf(table).includes(name))).toEqual([]);
    // so that the search itself is known to find what is there
    expect(left.length).toBeGreaterThan(20);
    for (const gone of ['qzx-of', 'Olive', 'Hal Helper', 'Test Bench', 'Example Lane', 'carla'])
      expect([gone, bytes.includes(gone)]).toEqual([gone, false]);
    const [before, after] = [openCopy(database, { readonly: true }), openDatabase(join(to, 'broodbench.db'))];
    expect(triggersOf(after.sqlite)).toEqual(triggersOf(before));
    for (const table of ['cultures', 'diary', 'orders', 'order_lines', 'invoices', 'customers', 'people']) {
      const count = `SELECT count(*) FROM ${table}`;
      expect([table, after.sqlite.prepare(count).pluck().get()]).toEqual([
        table,
        before.prepare(count).pluck().get(),
      ]);
    }
    expect(linkByToken(after.db, at({ path: '/o/:token' }).slice('/o/'.length), testNow)).toBeNull();
    const secrets = 'SELECT hex(secret) FROM link_key';
    expect(after.sqlite.prepare(secrets).pluck().get()).not.toBe(before.prepare(secrets).pluck().get());
    expect(
      after.sqlite.prepare("SELECT count(*) FROM people WHERE password_hash <> 'none'").pluck().get(),
    ).toBe(0);
    before.close();
    after.sqlite.close();
  });

  it('runs, lets somebody in by a link, and can send no mail nor reach the real backups whatever the settings say', async () => {
    const bench = await filledFolder();
    const { folder } = await backupOf(bench);
    const to = join(freshFolder(), 'trial');
    expect(await run('trial-copy', ['--to', to, '--from', folder])).toMatchObject({ code: 0, errors: '' });
    const reset = await run('person', ['reset-password', 'person-1@example.org', '--data-dir', to]);
    expect(reset.output).toContain('/new-password?token=');
    const hook = '/bin/true';
    const real = { SMTP_HOST: 'mail.example.org', MAIL_FROM: 'bench@example.org', BACKUP_DIR: bench.shelf };
    const config = readConfig({ ...real, BACKUP_HOOK: hook, DATA_DIR: to });
    expect(config.mail).not.toBeNull();
    const trial = await prepare(config, systemClock, () => {});
    expect(trial.isTrial).toBe(true);
    expect(trial.settings).toMatchObject({ mail: null, backupHook: null, backupDir: join(to, 'backups') });
    trial.sqlite.close();
    const others = await prepare({ ...config, dataDir: bench.dir }, systemClock, () => {});
    expect([others.isTrial, others.settings.mail]).toEqual([false, config.mail]);
    others.sqlite.close();
    expect((await run('trial-copy', ['--to', to], { DATA_DIR: bench.dir })).errors).toContain('not empty');
    expect((await run('trial-copy', [])).code).toBe(2);
  });

  it('keeps no column that is a person’s, and names none that is not there', async () => {
    const { database } = await filledFolder();
    const sqlite = openCopy(database, { readonly: true });
    const sqlOf = sqlite.prepare('SELECT sql FROM sqlite_schema WHERE name = ?').pluck();
    for (const { table, columns } of personalTables) {
      const { name } = getTableConfig(table);
      const own = getTableColumns(table);
      const goes = Object.keys(columns).filter((key) => columns[key] !== 'stays');
      expect([
        name,
        goes.filter((key) => keepsOf(name).includes(own[key]!.name) && own[key]!.name !== 'country'),
      ]).toEqual([name, []]);
    }
    for (const [name, columns] of Object.entries(kept)) {
      const there = sqlite.prepare('SELECT name FROM pragma_table_info(?)').pluck().all(name);
      expect([name, columns.split(' ').filter((one) => !there.includes(one))]).toEqual([name, []]);
    }
    const people = { name: 'people', sql: String(sqlOf.get('people')) };
    expect(columnsToReplace(sqlite, people).map(({ name }) => name)).toEqual([
      'sign_in_name',
      'name',
      'password_hash',
    ]);
    sqlite.close();
  });
});
