import { readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { isBackupName } from '../../shared/backups/manifest.ts';
import { backupsToDrop } from '../../shared/backups/rotation.ts';
import type { ShelfBackup } from '../plumbing/backups.ts';
import { makePrivateFolder, writePrivate } from '../plumbing/lasting-files.ts';
import { readBackup } from './inspect.ts';

const provenName = 'proven.json';

/** Begins the name of a folder in which work goes on; nobody takes it for a backup. */
export const underWay = '.under-way-';

function provenAtOf(folder: string): number | null {
  try {
    const { at } = JSON.parse(readFileSync(join(folder, provenName), 'utf8')) as { at: unknown };
    return typeof at === 'number' && Number.isFinite(at) ? at : null;
  } catch {
    return null;
  }
}

export const writeProven = (folder: string, at: number) =>
  writePrivate(join(folder, provenName), `${JSON.stringify({ at })}\n`);

/** Empty too where the folder cannot be read just now (its disk is gone, it is somebody else's): pages go on, and say so. */
function namesIn(shelf: string): string[] {
  try {
    return readdirSync(shelf);
  } catch {
    return [];
  }
}

/** The backups there are, one folder each in one folder; they are their own list, so that a restore changes none. Newest first; what cannot be read as one is left out. */
export function listBackups(shelf: string): ShelfBackup[] {
  const found: ShelfBackup[] = [];
  for (const name of namesIn(shelf).filter(isBackupName)) {
    const folder = join(shelf, name);
    try {
      const { manifest } = readBackup(folder);
      const { madeAt, reason, schema, files } = manifest;
      const bytes = files.reduce((sum, file) => sum + file.bytes, 0);
      found.push({
        name,
        folder,
        madeAt: Date.parse(madeAt),
        bytes,
        reason,
        schema,
        provenAt: provenAtOf(folder),
      });
    } catch {
      // A damaged one is no backup; `npm run verify` says what is wrong with it.
    }
  }
  return found.sort((a, b) => b.madeAt - a.madeAt);
}

/** The newest that was restored and held together. */
export const newestProven = (shelf: string): ShelfBackup | null =>
  listBackups(shelf).find(({ provenAt }) => provenAt !== null) ?? null;

const leftBehindAfterMs = 86_400_000;

/** Takes away what the rotation no longer keeps, and what a stopped try left behind; returns the names. */
export function rotate(shelf: string, now: number): string[] {
  const all = listBackups(shelf).map((one) => ({ ...one, proven: one.provenAt !== null }));
  const left = readdirSync(shelf).filter(
    (name) => name.startsWith(underWay) && now - statSync(join(shelf, name)).mtimeMs > leftBehindAfterMs,
  );
  const gone = [...backupsToDrop(all), ...left];
  for (const name of gone) rmSync(join(shelf, name), { recursive: true });
  return gone;
}

export function openShelf(shelf: string): void {
  makePrivateFolder(shelf);
}
