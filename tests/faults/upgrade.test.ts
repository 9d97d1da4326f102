import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { verifyBackup } from '../../server/backups/inspect.ts';
import { restoreBeside } from '../../server/backups/restore.ts';
import { listBackups } from '../../server/backups/shelf.ts';
import { takeBackup } from '../../server/backups/take.ts';
import { readConfig } from '../../server/config.ts';
import { readMigrations } from '../../server/plumbing/migrate.ts';
import { openCopy, openDatabase } from '../../server/plumbing/open-database.ts';
import { CannotStart, prepare } from '../../server/prepare.ts';
import { databaseName } from '../../shared/backups/manifest.ts';
import { clearFolders, freshFolder } from '../backups/shelf.ts';
import { testNow } from '../support/test-app.ts';
import { folderAt, migrationsUpTo } from './older.ts';

afterAll(clearFolders);

const root = fileURLToPath(new URL('../..', import.meta.url));
const all = readMigrations();
const newest = all.length;
const clock = { now: () => testNow };

const schemaIn = (file: string) => {
  const sqlite = openCopy(file, { readonly: true });
  const schema = sqlite.prepare('SELECT max(number) FROM migrations').pluck().get();
  sqlite.close();
  return schema;
};

describe('an upgrade', () => {
  it('makes a backup of the old database first, and that is the old database', async () => {
    const dir = folderAt(newest - 3);
    const said: string[] = [];
    const prepared = await prepare(readConfig({ DATA_DIR: dir }), clock, (line) => said.push(line));
    prepared.sqlite.close();
    const [backup, ...others] = listBackups(join(dir, 'backups'));
    expect(others).toEqual([]);
    expect(backup).toMatchObject({ reason: 'upgrade', schema: newest - 3, provenAt: testNow });
    expect(verifyBackup(backup!.folder).manifest.rows.people).toBe(2);
    expect(schemaIn(join(dir, databaseName))).toBe(newest);
    expect(said[0]).toContain(`from schema ${newest - 3} to ${newest}`);
  });

  it('that cannot be done leaves the old database, and says what to do', async () => {
    const dir = folderAt(newest - 3);
    const { sqlite } = openDatabase(join(dir, databaseName));
    // What no migration expects: a table of its name is there already.
    const made = /CREATE TABLE (\w+)/.exec(
      all
        .slice(newest - 3)
        .map(({ sql }) => sql)
        .join('\n'),
    )?.[1];
    sqlite.exec(`CREATE TABLE ${made} (x TEXT) STRICT`);
    sqlite.close();
    const before = readFileSync(join(dir, databaseName));
    const failing = prepare(readConfig({ DATA_DIR: dir }), clock, () => {});
    await expect(failing).rejects.toThrow(CannotStart);
    await expect(failing).rejects.toThrow(
      /stopped at .*already exists.*is as it was before: start the version/,
    );
    expect(readFileSync(join(dir, databaseName)).equals(before)).toBe(true);
    expect(schemaIn(join(dir, databaseName))).toBe(newest - 3);
  });

  it('that is killed leaves the old database or the new one', async () => {
    const dir = folderAt(newest - 3);
    // A migration that takes a while, so that there is something to be killed in.
    const slow = `-- Why: a test.
      CREATE TABLE slow (n INTEGER) STRICT;
      INSERT INTO slow WITH RECURSIVE c(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM c WHERE n < 3000000) SELECT n FROM c;`;
    const folder = migrationsUpTo(newest, { [`${String(newest + 1).padStart(4, '0')}-slow.sql`]: slow });
    const script = join(freshFolder(), 'upgrade.mts');
    const url = (path: string) => JSON.stringify(join(root, path));
    writeFileSync(
      script,
      `import { migrate } from ${url('server/plumbing/migrate.ts')};
       import { openDatabase } from ${url('server/plumbing/open-database.ts')};
       const { sqlite } = openDatabase(process.argv[2]);
       console.log('begun');
       migrate(sqlite, 2000, { folder: process.argv[3] });
       sqlite.close();`,
    );
    const seen = new Set<unknown>();
    for (const afterMs of [0, 150]) {
      const tried = join(freshFolder(), 'tried');
      mkdirSync(tried);
      cpSync(join(dir, databaseName), join(tried, databaseName));
      const file = join(tried, databaseName);
      const child = spawn(process.execPath, ['--import', 'tsx', script, file, folder], { cwd: root });
      const ended = new Promise((resolve) => child.once('exit', resolve));
      await Promise.race([ended, new Promise((resolve) => child.stdout.once('data', resolve))]);
      await new Promise((resolve) => setTimeout(resolve, afterMs));
      child.kill('SIGKILL');
      await ended;
      const { sqlite } = openDatabase(file);
      const schema = sqlite.prepare('SELECT max(number) FROM migrations').pluck().get();
      const slowRows = sqlite.prepare("SELECT count(*) FROM sqlite_schema WHERE name = 'slow'").pluck().get();
      expect(sqlite.pragma('integrity_check', { simple: true })).toBe('ok');
      expect([
        [newest - 3, 0],
        [newest + 1, 1],
      ]).toContainEqual([schema, slowRows]);
      seen.add(schema);
      sqlite.close();
      rmSync(tried, { recursive: true });
    }
    expect(seen).toContain(newest - 3);
  });
});

describe('a backup of an earlier schema', () => {
  it.each([3, 15, newest - 1])('%i is restored as one of today', async (number) => {
    const dir = folderAt(number);
    const taking = { database: join(dir, databaseName), shelf: join(dir, 'backups'), now: testNow };
    const { folder } = await takeBackup({ ...taking, reason: 'asked' });
    const into = join(freshFolder(), 'restored');
    const { manifest } = restoreBeside(folder, into, testNow);
    expect([manifest.schema, schemaIn(join(into, databaseName))]).toEqual([number, newest]);
  });
});

describe('every connection', () => {
  it('waits until what it wrote is on the disk', () => {
    const file = join(freshFolder(), databaseName);
    const opened = [
      openDatabase(file).sqlite,
      openDatabase(file, { readonly: true }).sqlite,
      openCopy(file, { readonly: true }),
    ];
    // SQLite, PRAGMA synchronous: 2 is FULL
    for (const sqlite of opened) {
      expect(sqlite.pragma('synchronous', { simple: true })).toBe(2);
      sqlite.close();
    }
  });
});
