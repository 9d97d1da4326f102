import { existsSync, mkdirSync, readdirSync, realpathSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { databaseName } from '../../shared/backups/manifest.ts';
import { makePrivateFolder, sync } from '../plumbing/lasting-files.ts';
import { holdFolder } from '../plumbing/one-instance.ts';
import { erasedSince, keepList } from './erased.ts';
import { type Backup, BadBackup } from './inspect.ts';
import { giveTo, ownerOf } from './owner.ts';
import { restoreBeside } from './restore.ts';
import { underWay } from './shelf.ts';

/** The files of a database; the last two stand beside one that is, or was, running. */
const files = [databaseName, `${databaseName}-wal`, `${databaseName}-shm`];

/** `before-restore-20261125T110000Z`, and a number where there is one already. */
function freeFolder(into: string, now: number): string {
  const stamp = new Date(now).toISOString().slice(0, 19).replace(/[-:]/g, '');
  for (let number = 1; ; number += 1) {
    const path = join(into, `before-restore-${stamp}Z${number === 1 ? '' : `-${number}`}`);
    if (!existsSync(path)) return path;
  }
}

/** Moves what is there out of the way; null where nothing was. A log without its database is stale, and goes along. */
function moveAway(into: string, now: number): string | null {
  const there = files.filter((name) => existsSync(join(into, name)));
  if (there.length === 0) return null;
  const kept = freeFolder(into, now);
  mkdirSync(kept, { mode: 0o700 });
  for (const name of there) renameSync(join(into, name), join(kept, name));
  sync(kept);
  return kept;
}

export type Restored = { backup: Backup; kept: string | null };

/**
 * Puts a backup in the place of what a folder holds, inside that folder: it may be a mount, which cannot be renamed.
 * Everything about the backup is checked first, on a copy; whatever stops it then has changed nothing. What was there
 * is kept under a dated name. Throws BadBackup, or AlreadyInUse where a service works on the folder.
 */
export function putBack(folder: string, named: string, o: { now: number; force: boolean }): Restored {
  // systemd gives a service its folder by a link; what is moved stays in the folder itself.
  const into = existsSync(named) ? realpathSync(named) : named;
  if (existsSync(into) && !statSync(into).isDirectory()) throw new BadBackup(`${into} is not a folder.`);
  if (existsSync(join(into, databaseName)) && !o.force)
    throw new BadBackup(
      `${into} holds a database already. Restore into another folder (--into), or say --force: then what is there is kept beside, under a dated name.`,
    );
  const owner = ownerOf(into);
  const isNew = owner === null;
  makePrivateFolder(into);
  const held = holdFolder(into, 'a restore');
  const work = join(into, `${underWay}${process.pid}`);
  try {
    const erasures = erasedSince(folder, into);
    const backup = restoreBeside(folder, work, o.now, erasures);
    // Also whom this backup does not know yet: a later one that is restored after it may.
    keepList(into, erasures);
    const kept = moveAway(into, o.now);
    renameSync(join(work, databaseName), join(into, databaseName));
    sync(into);
    return { backup, kept };
  } finally {
    rmSync(work, { recursive: true, force: true });
    held.release();
    giveTo(owner, into);
    if (isNew && !existsSync(join(into, databaseName))) removeEmpty(into);
  }
}

/** A folder that was made for a restore that failed goes again; only ever our own lock is in it. */
function removeEmpty(into: string) {
  if (readdirSync(into).every((name) => name === 'in-use.lock')) rmSync(into, { recursive: true });
}
