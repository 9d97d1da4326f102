import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
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
  sqlite.transaction(() => {
    sqlite.exec(m.sql);
    const broken = sqlite.pragma('foreign_key_check') as unknown[];
    if (broken.length > 0)
      throw new MigrationError(`${m.name} would leave ${broken.length} rows without their parent.`);
    sqlite
      .prepare('INSERT INTO migrations (number, name, sha256, applied_at) VALUES (?, ?, ?, ?)')
      .run(m.number, m.name, m.sha256, now);
  })();
}

/**
 * Brings the database up to the newest schema, each migration in a transaction of its own. Foreign keys are off
 * meanwhile: a table that is rebuilt would otherwise take its child rows with it, and inside a transaction the
 * pragma is ignored. Before the first change to a filled database `snapshot` is called.
 */
export function migrate(
  sqlite: Sqlite,
  now: number,
  options: { folder?: string; snapshot?: (fromNumber: number) => void } = {},
): { from: number; to: number } {
  const all = readMigrations(options.folder);
  const done = applied(sqlite);
  const from = Math.max(0, ...done.keys());
  const newest = Math.max(0, ...all.map((m) => m.number));
  if (from > newest) {
    throw new MigrationError(
      `The database has schema ${from}, this program knows only up to ${newest}. Start the newer version again, or restore a backup made before the upgrade.`,
    );
  }
  for (const m of all) {
    const sha256 = done.get(m.number);
    if (sha256 !== undefined && sha256 !== m.sha256) {
      throw new MigrationError(`${m.name} was changed after it had been applied; migrations are only added.`);
    }
  }
  const open = all.filter((m) => !done.has(m.number));
  if (open.length === 0) return { from, to: from };
  if (from > 0) options.snapshot?.(from);
  sqlite.pragma('foreign_keys = OFF');
  try {
    for (const m of open) applyOne(sqlite, m, now);
  } finally {
    sqlite.pragma('foreign_keys = ON');
  }
  return { from, to: newest };
}
