// `npm run prove -- upgrades`: from every schema there ever was, with fifty thousand rows, to the one of today. Killed at
// twenty moments, out of room at five, restored from a backup of then; and one of a hundred megabytes against the clock.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { afterAll, describe, expect, it } from 'vitest';
import { faultOf } from '../../server/backups/inspect.ts';
import { restoreBeside } from '../../server/backups/restore.ts';
import { takeBackup } from '../../server/backups/take.ts';
import { readConfig } from '../../server/config.ts';
import { migrate, readMigrations, schemaOf } from '../../server/plumbing/migrate.ts';
import { openCopy, openDatabase, type Sqlite } from '../../server/plumbing/open-database.ts';
import { prepare } from '../../server/prepare.ts';
import { databaseName } from '../../shared/backups/manifest.ts';
import { stillEmpty } from '../architecture/filled.ts';
import { clearFolders, freshFolder } from '../backups/shelf.ts';
import { randomFrom } from '../support/random.ts';
import { testNow } from '../support/test-app.ts';
import { folderAt } from './older.ts';
import { pause } from './signed-in.ts';

afterAll(clearFolders);

const root = fileURLToPath(new URL('../..', import.meta.url));
const newest = readMigrations().length;
const rows = 50_000;
const kills = Number(process.env.PROVE_KILLS ?? 20);
const first = Number(process.env.PROVE_FROM ?? 1);

const columnsOf = (sqlite: Sqlite, table: string) =>
  sqlite.prepare('SELECT name FROM pragma_table_info(?)').pluck().all(table) as string[];

const tablesOf = (sqlite: Sqlite) =>
  sqlite
    .prepare(
      "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'migrations' ORDER BY name",
    )
    .pluck()
    .all() as string[];

/** What is different in each copy of a row; the rest is as it is in the first. */
const copied: Record<string, Record<string, string>> = {
  diary: { id: '1000000 + n', root_id: 'NULL', replaces_id: 'NULL', note: "'note ' || n", kind: "'note'" },
  customers: { id: '1000000 + n', name: "'Customer ' || n" },
  mails: { id: '1000000 + n', tells_of: "'copy ' || n", message_id: "'<copy-' || n || '@example.org>'" },
  climate_readings: { id: '1000000 + n', at: '1000000 + n' },
  sign_in_tries: { id: '1000000 + n' },
  form_keys: { form_key: "'copy-0123456789-' || n" },
  audit: { id: '1000000 + n', salt: "'salt'", body_hash: "'body'", chain: "'chain ' || n" },
};

/** Fifty thousand rows more, shared out among the tables that this schema has. */
function fillUp(sqlite: Sqlite): void {
  const there = Object.entries(copied).filter(
    ([table]) => columnsOf(sqlite, table).length > 0 && !stillEmpty[schemaOf(sqlite).schema]?.includes(table),
  );
  for (const [table, changed] of there) {
    const names = columnsOf(sqlite, table);
    const values = names.map((name) => changed[name] ?? `one."${name}"`);
    const where = table === 'diary' ? "WHERE kind = 'note' AND replaces_id IS NULL" : '';
    sqlite
      .prepare(
        `WITH RECURSIVE c(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM c WHERE n < ?)
         INSERT INTO "${table}" (${names.map((name) => `"${name}"`).join(', ')})
         SELECT ${values.join(', ')} FROM c, (SELECT * FROM "${table}" ${where} LIMIT 1) one`,
      )
      .run(Math.ceil(rows / there.length));
  }
}

type Contents = Map<string, { rows: number; sum: string }>;
type Shape = [string, string[]][];

const shapeOf = (sqlite: Sqlite): Shape => tablesOf(sqlite).map((table) => [table, columnsOf(sqlite, table)]);

/** Rows and a sum of what stands in each table, by the columns that it had at the older schema. */
function contentsOf(sqlite: Sqlite, shape: Shape): Contents {
  return new Map(
    shape.map(([table, names]) => {
      const sum = createHash('sha256');
      let count = 0;
      const listed = names.map((name) => `"${name}"`).join(', ');
      const order = names.map((_, index) => index + 1).join(', ');
      for (const row of sqlite
        .prepare(`SELECT ${listed} FROM "${table}" ORDER BY ${order}`)
        .raw()
        .iterate()) {
        sum.update(JSON.stringify(row));
        count += 1;
      }
      return [table, { rows: count, sum: sum.digest('hex') }];
    }),
  );
}

function look<T>(file: string, read: (sqlite: Sqlite) => T): T {
  const { sqlite } = openDatabase(file);
  try {
    return read(sqlite);
  } finally {
    sqlite.close();
  }
}

/** A program that upgrades a database, in plain JavaScript, so that it begins at once. */
async function upgrader(): Promise<string> {
  const source = join(root, '.built', `upgrade-${process.pid}.mts`);
  const outfile = source.replace('.mts', '.mjs');
  writeFileSync(
    source,
    `import { migrate } from '../server/plumbing/migrate.ts';
     import { openDatabase } from '../server/plumbing/open-database.ts';
     const { sqlite } = openDatabase(process.argv[2]);
     process.stdout.write('begun');
     const begun = performance.now();
     migrate(sqlite, 2000, { folder: process.argv[3] });
     process.stdout.write(' ' + Math.ceil(performance.now() - begun));
     sqlite.close();`,
  );
  await build({
    entryPoints: [source],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    packages: 'external',
    logLevel: 'error',
  });
  rmSync(source);
  return outfile;
}

/** Runs it and kills it so long after it has begun; how long it took where it was let alone. */
async function upgrade(program: string, file: string, killAfterMs: number | null): Promise<number> {
  const child = spawn(process.execPath, [program, file, join(root, 'migrations')], { cwd: root });
  let said = '';
  const begun = new Promise<void>((resolve) =>
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      resolve();
    }),
  );
  const ended = new Promise<void>((resolve) => child.once('close', () => resolve()));
  await Promise.race([begun, ended]);
  if (killAfterMs !== null) {
    await pause(killAfterMs);
    child.kill('SIGKILL');
  }
  await ended;
  return Number(said.split(' ')[1] ?? Number.NaN);
}

const copyTo = (file: string, name: string) => {
  const copy = join(freshFolder(), name);
  copyFileSync(file, copy);
  return copy;
};

type Old = { file: string; schema: number; shape: Shape; before: Contents };

const isOld = (sqlite: Sqlite, { schema, shape, before }: Old) => {
  expect(schemaOf(sqlite).schema).toBe(schema);
  expect(contentsOf(sqlite, shape)).toEqual(before);
};

const isNew = (sqlite: Sqlite, { shape, before }: Old) => {
  expect(schemaOf(sqlite).schema).toBe(newest);
  expect(contentsOf(sqlite, shape)).toEqual(before);
};

function outOfRoom(old: Old): number {
  let stopped = 0;
  for (const room of [0, 2, 10, 40, 200]) {
    const file = copyTo(old.file, databaseName);
    look(file, (sqlite) => {
      const pages = sqlite.pragma('page_count', { simple: true }) as number;
      sqlite.pragma(`max_page_count = ${pages + room}`);
      try {
        migrate(sqlite, 2000);
        isNew(sqlite, old);
      } catch (error) {
        expect((error as Error).message).toContain('make room on the disk');
        isOld(sqlite, old);
        stopped += 1;
      }
    });
    rmSync(file);
  }
  return stopped;
}

async function killed(program: string, old: Old, random: ReturnType<typeof randomFrom>) {
  const alone = copyTo(old.file, databaseName);
  const ms = await upgrade(program, alone, null);
  look(alone, (sqlite) => {
    isNew(sqlite, old);
    expect(faultOf(sqlite)).toBeNull();
  });
  rmSync(alone);
  let stayedOld = 0;
  for (let kill = 0; kill < kills; kill += 1) {
    const file = copyTo(old.file, databaseName);
    await upgrade(program, file, ((kill + random.uniform()) / kills) * ms * 1.1);
    look(file, (sqlite) => {
      const is = schemaOf(sqlite).schema;
      expect([old.schema, newest]).toContain(is);
      if (is === old.schema) stayedOld += 1;
      (is === old.schema ? isOld : isNew)(sqlite, old);
    });
    for (const end of ['', '-wal', '-shm']) rmSync(`${file}${end}`, { force: true });
  }
  return { ms, stayedOld };
}

describe('upgrades from every schema', () => {
  it('lose no row, whatever stops them', async () => {
    const program = await upgrader();
    const random = randomFrom(6);
    const sums = { rows: 0, kills: 0, stayedOld: 0, outOfRoom: 0, restored: 0, longestMs: 0 };
    for (let schema = first; schema < newest; schema += 1) {
      const folder = folderAt(schema);
      const file = join(folder, databaseName);
      const old = look(file, (sqlite) => {
        fillUp(sqlite);
        sqlite.pragma('wal_checkpoint(TRUNCATE)');
        const shape = shapeOf(sqlite);
        return { file, schema, shape, before: contentsOf(sqlite, shape) };
      });
      const count = [...old.before.values()].reduce((sum, one) => sum + one.rows, 0);
      expect(count).toBeGreaterThanOrEqual(rows);
      const { ms, stayedOld } = await killed(program, old, random);
      sums.rows += count;
      sums.kills += kills;
      sums.stayedOld += stayedOld;
      sums.outOfRoom += outOfRoom(old);
      sums.longestMs = Math.max(sums.longestMs, ms);
      const { folder: backup } = await takeBackup({
        database: file,
        shelf: join(folder, 'shelf'),
        reason: 'asked',
        now: testNow,
      });
      const into = freshFolder();
      restoreBeside(backup, into, testNow);
      look(join(into, databaseName), (sqlite) => expect(schemaOf(sqlite).schema).toBe(newest));
      sums.restored += 1;
      clearFolders();
      console.log(
        `schema ${schema}: ${count} rows, ${ms} ms, ${stayedOld} of ${kills} kills left the old one`,
      );
    }
    rmSync(program);
    console.log(JSON.stringify(sums));
  }, 7_200_000);

  it('take a few seconds for a hundred megabytes, with the backup before', async () => {
    const folder = folderAt(newest - 3);
    const file = join(folder, databaseName);
    look(file, (sqlite) => {
      fillUp(sqlite);
      const columns = columnsOf(sqlite, 'count_photos');
      const values = columns.map((name) =>
        name === 'id' ? '?' : name === 'diary_id' ? 'NULL' : `"${name}"`,
      );
      const photo = sqlite.prepare(
        `INSERT INTO count_photos SELECT ${values.join(', ')} FROM count_photos WHERE id = 2`,
      );
      const bytes = sqlite.prepare('INSERT INTO count_photo_files VALUES (?, ?)');
      for (let id = 100; id < 190; id += 1) {
        photo.run(id);
        bytes.run(id, Buffer.alloc(1_000_000, `picture ${id} `));
      }
    });
    const megabytes = statSync(file).size / 1e6;
    const begun = performance.now();
    const config = readConfig({ DATA_DIR: folder });
    const { sqlite } = await prepare(config, { now: () => testNow }, () => {});
    const seconds = (performance.now() - begun) / 1000;
    expect(schemaOf(sqlite).schema).toBe(newest);
    sqlite.close();
    const copy = openCopy(file, { readonly: true });
    expect(faultOf(copy)).toBeNull();
    copy.close();
    console.log(
      `${megabytes.toFixed(0)} MB upgraded in ${seconds.toFixed(1)} s, backup and its proof within`,
    );
  }, 600_000);
});
