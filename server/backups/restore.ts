import { chmodSync, copyFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { databaseName } from '../../shared/backups/manifest.ts';
import { makePrivateFolder, sync } from '../plumbing/lasting-files.ts';
import { migrate } from '../plumbing/migrate.ts';
import { openDatabase } from '../plumbing/open-database.ts';
import type { Erasures } from './erased.ts';
import {
  type Backup,
  BadBackup,
  checkBytes,
  checkContents,
  faultOf,
  readBackup,
  refuseNewer,
} from './inspect.ts';
import { settle } from './settle.ts';

/**
 * Restores a backup into a folder that nobody uses yet: the copy is checked against the description, brought up to
 * this program's schema and settled. Nothing else is touched, so whatever is wrong with the backup comes out here.
 */
export function restoreBeside(folder: string, into: string, now: number, erasures: Erasures = []): Backup {
  const backup = readBackup(folder);
  refuseNewer(backup);
  makePrivateFolder(into);
  const file = join(into, databaseName);
  copyFileSync(join(folder, databaseName), file);
  chmodSync(file, 0o600);
  checkBytes(file, backup);
  checkContents(file, backup);
  const { sqlite, db } = openDatabase(file);
  try {
    migrate(sqlite, now);
    // What was erased must not be left in pages that are free now.
    if (settle(db, backup, erasures, now) > 0) sqlite.exec('VACUUM');
    const fault = faultOf(sqlite);
    if (fault) throw new BadBackup(`Restored, ${folder} does not hold together: ${fault}.`);
    // One file again: what stands beside a running database is in it, and nothing stale can be taken for it.
    sqlite.pragma('journal_mode = DELETE');
  } finally {
    sqlite.close();
  }
  sync(file);
  sync(into);
  return backup;
}

/** Restores a backup and throws the result away: the only proof that it can be. */
export function prove(folder: string, scratch: string, now: number): void {
  try {
    restoreBeside(folder, scratch, now);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}
