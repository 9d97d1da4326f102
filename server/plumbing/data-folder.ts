import {
  chmodSync,
  closeSync,
  existsSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  rmSync,
  statfsSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';

/** The folder of the data cannot be used; the message says why, which, and whose it is. */
export class BadFolder extends Error {}

const databaseName = 'broodbench.db';
const beside = [`${databaseName}-wal`, `${databaseName}-shm`];

/** File systems of other machines, by the number that statfs gives (Linux, linux/magic.h and statfs(2)). */
const networkKinds = new Map([
  [0x6969, 'NFS'],
  [0x517b, 'SMB'],
  [0xff534d42, 'SMB'],
  [0xfe534d42, 'SMB'],
  [0x65735546, 'FUSE'],
  [0x01021997, '9P'],
  [0x5346414f, 'AFS'],
  [0x00c36400, 'Ceph'],
]);

export const networkKindOf = (type: number): string | null => networkKinds.get(type >>> 0) ?? null;

const ownId = () => process.getuid?.() ?? null;

function refuse(path: string, what: string): never {
  const owner = lstatSync(path, { throwIfNoEntry: false })?.uid;
  const whose = owner === undefined ? '' : ` It belongs to user ${owner}`;
  const who = ownId() === null ? '' : `${whose ? ',' : ''} this service runs as user ${ownId()}`;
  throw new BadFolder(`${path} ${what}.${whose}${who}${whose || who ? '.' : ''}`);
}

/** Tries it: permissions, a disk that is mounted read-only and rules of the system all say the same then. */
function need(path: string, tried: () => void): void {
  try {
    tried();
  } catch (error) {
    refuse(path, `cannot be written to (${(error as NodeJS.ErrnoException).code})`);
  }
}

function writeInto(folder: string): void {
  const path = join(folder, `.tried-${process.pid}`);
  writeFileSync(path, '');
  rmSync(path);
}

function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (existsSync(folder)) refuse(folder, 'is no folder');
    let above = dirname(folder);
    while (!existsSync(above)) above = dirname(above);
    refuse(above, `lets nobody make ${folder} in it (${code})`);
  }
}

const sizeOf = (path: string) => statSync(path, { throwIfNoEntry: false })?.size ?? 0;

/**
 * A database that is gone, or has nothing in it, while its log or its backups are there was moved or lost: a new one
 * would hide that.
 */
function refuseToBeginAnew(folder: string, backupDir: string): void {
  if (sizeOf(join(folder, databaseName)) > 0) return;
  const left = beside.find((name) => sizeOf(join(folder, name)) > 0);
  if (left)
    refuse(
      join(folder, left),
      `is there but ${databaseName} is not, or has nothing in it. Put the database back beside it, or restore a backup (npm run restore)`,
    );
  const backups = existsSync(backupDir) ? readdirSync(backupDir).filter((name) => /^\d{8}T/.test(name)) : [];
  const newest = backups.sort().at(-1);
  if (newest)
    refuse(
      folder,
      `holds no database or an empty one, but there are backups in ${backupDir}. Restore one (npm run restore -- ${join(backupDir, newest)}), or move them elsewhere to begin with nothing`,
    );
}

type Folder = { dataDir: string; backupDir: string; allowsNetworkFolder: boolean };

/**
 * Makes the data folder where it is missing and makes sure that this process may do there what it must, before
 * anything is opened. Throws BadFolder.
 */
export function checkDataFolder(o: Folder, typeOf = (path: string) => statfsSync(path).type): void {
  const { dataDir: folder } = o;
  makeFolder(folder);
  need(folder, () => writeInto(folder));
  for (const name of [databaseName, ...beside]) {
    const path = join(folder, name);
    if (!existsSync(path)) continue;
    if (!statSync(path).isFile()) refuse(path, 'is no file');
    need(path, () => closeSync(openSync(path, 'r+')));
  }
  const kind = networkKindOf(typeOf(folder));
  if (kind && !o.allowsNetworkFolder)
    refuse(
      folder,
      `lies on a file system of another machine (${kind}), where locks and power cuts are not safe for a database. Use a disk of this machine, or set NETWORK_FOLDER=yes if you know better`,
    );
  refuseToBeginAnew(folder, o.backupDir);
}

const sticky = 0o1000;

function tryMode(path: string, mode: number): void {
  try {
    chmodSync(path, mode);
  } catch {
    // Somebody else's file that we may write to, or a disk that knows no modes: its owner decides.
  }
}

/**
 * A database that was copied here may be readable for everybody, and what stands beside it takes its mode. The folder
 * too, where it is ours and none that the system shares among all.
 */
export function keepForOwner(folder: string): void {
  const { uid, mode } = statSync(folder);
  if (uid === ownId() && (mode & sticky) === 0) tryMode(folder, 0o700);
  for (const path of [databaseName, ...beside].map((name) => join(folder, name)))
    if (existsSync(path)) tryMode(path, 0o600);
}
