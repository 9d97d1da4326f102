import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { databaseFaultOf } from './database-faults.ts';
import type { Sqlite } from './open-database.ts';

export const migrationsFolder = fileURLToPath(new URL('../../migrations', import.meta.url));

export class MigrationError extends Error {}

type Migration = { number: number; name: string; sql: string; sha256: string };

export function readMigrations(folder = migrationsFolder): Migration[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.sql'))
    .sort()
    .map((name) => {
      const sql = readFileSync(join(folder, name), 'utf8');
      return {
        number: Number(name.slice(0, 4)),
        name,
        sql,
        sha256: createHash('sha256').update(sql).digest('hex'),
      };
    });
}

function applied(sqlite: Sqlite): Map<number, string> {
  sqlite.exec(`CREATE TABLE IF NOT EXISTS migrations (
    number INTEGER PRIMARY KEY, name TEXT NOT NULL, sha256 TEXT NOT NULL, applied_at INTEGER NOT NULL) STRICT`);
  const rows = sqlite.prepare('SELECT number, sha256 FROM migrations ORDER BY number').all() as {
    number: number;
    sha256: string;
  }[];
  return new Map(rows.map((r) => [r.number, r.sha256]));
}

/** The schema of a database and the newest that this program knows. Changes nothing. */
export function schemaOf(sqlite: Sqlite, folder = migrationsFolder): { schema: number; newest: number } {
  const there = sqlite.prepare("SELECT count(*) FROM sqlite_schema WHERE name = 'migrations'").pluck().get();
  const schema = there ? sqlite.prepare('SELECT max(number) FROM migrations').pluck().get() : 0;
  const newest = Math.max(0, ...readMigrations(folder).map(({ number }) => number));
  return { schema: Number(schema ?? 0), newest };
}

function applyOne(sqlite: Sqlite, m: Migration, now: number) {
  sqlite.exec(m.sql);
  const broken = sqlite.pragma('foreign_key_check') as unknown[];
  if (broken.length > 0)
    throw new MigrationError(`${m.name} would leave ${broken.length} rows without their parent.`);
  sqlite
    .prepare('INSERT INTO migrations (number, name, sha256, applied_at) VALUES (?, ?, ?, ?)')
    .run(m.number, m.name, m.sha256, now);
}

/** What is open, after what was done is known to be what this program would have done. */
function openMigrations(all: readonly Migration[], done: ReadonlyMap<number, string>): Migration[] {
  for (const m of all) {
    const sha256 = done.get(m.number);
    if (sha256 !== undefined && sha256 !== m.sha256)
      throw new MigrationError(`${m.name} was changed after it had been applied; migrations are only added.`);
  }
  return all.filter((m) => !done.has(m.number));
}

/**
 * Brings the database up to the newest schema, all migrations in one transaction: whatever stops it, a fault or a power
 * cut, leaves the old database or the new one, which the old program or the new one can go on with. Foreign keys are off
 * meanwhile: a table that is rebuilt would otherwise take its child rows with it, and inside a transaction the pragma
 * is ignored. A backup is made by whoever calls this (see server/prepare.ts).
 */
export function migrate(
  sqlite: Sqlite,
  now: number,
  options: { folder?: string } = {},
): { from: number; to: number } {
  const all = readMigrations(options.folder);
  const { schema: from, newest } = schemaOf(sqlite, options.folder);
  if (from > newest) {
    throw new MigrationError(
      `The database has schema ${from}, this program knows only up to ${newest}. Nothing was changed. Start the newer version again, or restore a backup made before the upgrade (npm run restore).`,
    );
  }
  const open = openMigrations(all, applied(sqlite));
  if (open.length === 0) return { from, to: from };
  sqlite.pragma('foreign_keys = OFF');
  let at = '';
  try {
    sqlite.transaction(() => {
      for (const m of open) {
        at = m.name;
        applyOne(sqlite, m, now);
      }
    })();
  } catch (error) {
    const said = (error as Error).message.replace(/\.$/, '');
    const next =
      databaseFaultOf(error) === 'full'
        ? 'make room on the disk (as much again as the database has), then start again.'
        : 'start the version that you had, and keep this message for a report.';
    throw new MigrationError(
      `The upgrade from schema ${from} to ${newest} stopped at ${at}: ${said}. The database is as it was before: ${next}`,
      { cause: error },
    );
  } finally {
    sqlite.pragma('foreign_keys = ON');
  }
  return { from, to: newest };
}
