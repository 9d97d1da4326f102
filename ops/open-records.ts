import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { readConfig } from '../server/config.ts';
import { readMigrations } from '../server/plumbing/migrate.ts';
import { type Opened, openDatabase } from '../server/plumbing/open-database.ts';
import { readPause } from '../server/plumbing/pause.ts';
import { isSetUp, readBusiness } from '../server/settings/queries.ts';
import { dayInZone } from '../shared/zone-day.ts';

/** What keeps a command from its work, in words for whoever called it. */
export class CannotOpen extends Error {}

/**
 * Opens the database of a service that has been set up; never makes one. The service may be running: whoever writes
 * keeps the lock for one short transaction.
 */
export function openRecords(
  dataDir: string | undefined,
  env: NodeJS.ProcessEnv,
  now: number,
): Opened & { today: string } {
  const folder = dataDir === undefined ? readConfig(env).dataDir : resolve(dataDir);
  const file = join(folder, 'broodbench.db');
  if (!existsSync(file))
    throw new CannotOpen(
      `There is no database in ${folder}. Start the service once with npm start, or name its folder.`,
    );
  if (readPause(folder))
    throw new CannotOpen(
      'The records are only read just now, and every command of this kind writes. End it first: npm run pause -- off',
    );
  const opened = openDatabase(file);
  const { sqlite, db } = opened;
  const newest = Math.max(...readMigrations().map((migration) => migration.number));
  const there = sqlite
    .prepare("SELECT count(*) FROM sqlite_schema WHERE name = 'migrations'")
    .pluck()
    .get() as number;
  const schema = there && (sqlite.prepare('SELECT max(number) FROM migrations').pluck().get() as number);
  if (schema !== newest) {
    sqlite.close();
    throw new CannotOpen(
      `The database has schema ${schema}, this program ${newest}. Start the service once with npm start.`,
    );
  }
  if (!isSetUp(db)) {
    sqlite.close();
    throw new CannotOpen(
      'The business is not set up yet. Start the service with npm start and open its link.',
    );
  }
  return { ...opened, today: dayInZone(now, readBusiness(db).timeZone) };
}
