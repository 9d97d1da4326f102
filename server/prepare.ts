import { statSync } from 'node:fs';
import { join } from 'node:path';
import { databaseName } from '../shared/backups/manifest.ts';
import { BadBackup, faultOf } from './backups/inspect.ts';
import { newestProven } from './backups/shelf.ts';
import { takeBackup } from './backups/take.ts';
import type { Config } from './config.ts';
import type { Clock } from './plumbing/clock.ts';
import { keepForOwner } from './plumbing/data-folder.ts';
import { databaseFaultOf } from './plumbing/database-faults.ts';
import { MigrationError, migrate, schemaOf } from './plumbing/migrate.ts';
import { type Opened, openCopy, openDatabase } from './plumbing/open-database.ts';
import { isTrialCopy, settingsOfTrial } from './plumbing/trial-mark.ts';

/** The settings are those that the database may be run with. */
export type Prepared = Opened & { database: string; settings: Config; isTrial: boolean };

/** The service cannot start; the message is for whoever started it. */
export class CannotStart extends Error {
  override name = 'CannotStart';
}

/** A check of everything takes a second for each hundred megabytes or two; larger ones are looked through without indexes. */
const mostCheckedBytes = 500_000_000;

class Damaged extends Error {}

/**
 * After a stop in bad order there is a log, which is about to be put into its place. A log that belongs to another
 * database, or was cut, would do harm that nothing mends, so what both come to is looked at first, without writing.
 */
function lookFirst(database: string): void {
  const sizeOf = (path: string) => statSync(path, { throwIfNoEntry: false })?.size ?? 0;
  if (sizeOf(`${database}-wal`) === 0) return;
  const sqlite = openCopy(database, { readonly: true });
  try {
    const isLarge = sizeOf(database) > mostCheckedBytes;
    const found = isLarge ? sqlite.pragma('quick_check(1)', { simple: true }) : (faultOf(sqlite) ?? 'ok');
    if (found !== 'ok') throw new Damaged(String(found));
  } finally {
    sqlite.close();
  }
}

function inWords(error: unknown, config: Config): string | null {
  if (error instanceof BadBackup || error instanceof MigrationError) return error.message;
  const fault = error instanceof Damaged ? 'damaged' : databaseFaultOf(error);
  if (fault === null || fault === 'busy') return null;
  const said = (error as Error).message;
  if (fault === 'full')
    return `The disk of ${config.dataDir} is full: the database cannot even be opened. Make room on it, then start again.`;
  if (fault !== 'damaged') return `The database in ${config.dataDir} cannot be opened: ${said}.`;
  const newest = newestProven(config.backupDir);
  const next = newest
    ? `Restore the newest good backup: npm run restore -- ${newest.folder} --force`
    : `There is no good backup in ${config.backupDir}.`;
  return `The database in ${config.dataDir} is damaged (${said}). Nothing was changed. ${next}`;
}

/**
 * Opens the database of a folder that is held, and gives it this program's schema. Before an upgrade a backup is made,
 * and restored to a place of its own with the upgrade done there: one that would fail does so on the copy. Throws
 * CannotStart for what whoever starts the service can act on.
 */
export async function prepare(config: Config, clock: Clock, say: (line: string) => void): Promise<Prepared> {
  const database = join(config.dataDir, databaseName);
  let opened: Opened | null = null;
  keepForOwner(config.dataDir);
  try {
    lookFirst(database);
    opened = openDatabase(database);
    const isTrial = isTrialCopy(opened.sqlite);
    const settings = isTrial ? settingsOfTrial(config) : config;
    const { schema, newest } = schemaOf(opened.sqlite);
    if (schema > 0 && schema < newest) {
      say(`Upgrading the database from schema ${schema} to ${newest}: a backup first ...`);
      const taking = { database, shelf: settings.backupDir, reason: 'upgrade', now: clock.now() } as const;
      const { folder } = await takeBackup(taking);
      say(`The backup is ${folder}`);
    }
    migrate(opened.sqlite, clock.now());
    return { ...opened, database, settings, isTrial };
  } catch (error) {
    opened?.sqlite.close();
    const words = inWords(error, config);
    throw words === null ? error : new CannotStart(words, { cause: error });
  }
}
