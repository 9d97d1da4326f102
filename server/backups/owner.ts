import { existsSync, lchownSync, lstatSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

export type Owner = { uid: number; gid: number };

/** Whom a folder belongs to; null where there is none yet. */
export function ownerOf(folder: string): Owner | null {
  if (!existsSync(folder)) return null;
  const { uid, gid } = statSync(folder);
  return { uid, gid };
}

type Means = { isRoot: boolean; change: (path: string, uid: number, gid: number) => void };
const usual = (): Means => ({ isRoot: process.getuid?.() === 0, change: lchownSync });

/**
 * Gives what root made in a folder to the folder's owner: a command is often run by root, and the service, which is not
 * root, could neither open a database that was restored so nor take an old backup away.
 */
export function giveTo(owner: Owner | null, path: string, { isRoot, change } = usual()): void {
  if (!isRoot || owner === null || !existsSync(path)) return;
  const stat = lstatSync(path);
  if (stat.uid !== owner.uid) change(path, owner.uid, owner.gid);
  if (stat.isDirectory())
    for (const name of readdirSync(path)) giveTo(owner, join(path, name), { isRoot, change });
}
