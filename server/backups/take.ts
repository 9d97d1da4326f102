import { chmodSync, existsSync, mkdirSync, renameSync, rmSync, statfsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import {
  type BackupReason,
  backupName,
  databaseName,
  type Manifest,
  manifestName,
  sumsName,
  writeSums,
} from '../../shared/backups/manifest.ts';
import type { BackupStep } from '../plumbing/backups.ts';
import { sha256OfFile, sync, writePrivate } from '../plumbing/lasting-files.ts';
import { openCopy } from '../plumbing/open-database.ts';
import { appVersion } from '../plumbing/version.ts';
import { BadBackup, countRows, faultOf } from './inspect.ts';
import { prove } from './restore.ts';
import { openShelf, rotate, underWay, writeProven } from './shelf.ts';

export type Report = (step: BackupStep, done: number, total: number) => void;

export type Taking = {
  /** The database's file; the service may be writing to it. */
  database: string;
  shelf: string;
  reason: BackupReason;
  now: number;
  /** Room that must stay on the disk of the data, so that a backup does not stop the work. */
  leaveBytes?: number;
};

export type Taken = {
  name: string;
  folder: string;
  bytes: number;
  provenAt: number | null;
  dropped: string[];
};

const pagesAtOnce = 2_000;

/**
 * SQLite's online backup. The connection keeps a read transaction open meanwhile, so that it copies one moment: the
 * backup would begin anew with each write of the service otherwise, and never end on a busy day.
 */
async function copyDatabase(from: string, to: string, report: Report): Promise<void> {
  const sqlite = openCopy(from, { readonly: true });
  try {
    sqlite.exec('BEGIN');
    sqlite.prepare('SELECT count(*) FROM sqlite_schema').get();
    await sqlite.backup(to, {
      progress: ({ totalPages, remainingPages }) => {
        report('copying', totalPages - remainingPages, totalPages);
        return pagesAtOnce;
      },
    });
  } finally {
    sqlite.close();
  }
}

/** Checks the copy and says what is in it. */
function describe(file: string, { now, reason }: Taking): Manifest {
  chmodSync(file, 0o600);
  const sqlite = openCopy(file, { readonly: false });
  let rows: Record<string, number>;
  let schema: number;
  try {
    const fault = faultOf(sqlite);
    if (fault) throw new BadBackup(`The database itself does not hold together: ${fault}.`);
    rows = countRows(sqlite);
    schema = sqlite.prepare('SELECT max(number) FROM migrations').pluck().get() as number;
  } finally {
    sqlite.close();
  }
  sync(file);
  const bytes = statSync(file).size;
  return {
    format: 1,
    madeAt: new Date(now).toISOString(),
    reason,
    appVersion,
    schema,
    files: [{ name: databaseName, bytes, sha256: sha256OfFile(file) }],
    rows,
  };
}

function writeWords(folder: string, manifest: Manifest): void {
  const path = join(folder, manifestName);
  writePrivate(path, `${JSON.stringify(manifest, null, 1)}\n`);
  writePrivate(
    join(folder, sumsName),
    writeSums([
      [databaseName, manifest.files[0]!.sha256],
      [manifestName, sha256OfFile(path)],
    ]),
  );
}

/** Room for the copy and for the one that is restored from it to prove it. */
function needRoom({ database, shelf, leaveBytes = 0 }: Taking): void {
  const wal = statSync(`${database}-wal`, { throwIfNoEntry: false })?.size ?? 0;
  const isSameDisk = statSync(shelf).dev === statSync(database).dev;
  const needed = 2 * (statSync(database).size + wal) + (isSameDisk ? leaveBytes : 0);
  const { bavail, bsize } = statfsSync(shelf);
  if (bavail * bsize < needed)
    throw new BadBackup(
      `There is no room for a backup in ${shelf}: it needs ${Math.ceil(needed / 1e6)} MB, and ${Math.floor((bavail * bsize) / 1e6)} MB are free.`,
    );
}

function freeName(shelf: string, { now, reason }: Taking): string {
  const name = backupName(now, reason);
  for (let number = 2; number < 100; number += 1) {
    const tried = number === 2 ? name : `${name}-${number - 1}`;
    if (!existsSync(join(shelf, tried))) return tried;
  }
  throw new BadBackup(`There are a hundred backups of the same second in ${shelf}.`);
}

/**
 * Makes one backup: copied, checked, described, on the disk and only then under its name; then restored to a place of
 * its own, which proves it; then the oldest go. A try that fails leaves nothing behind and throws.
 */
export async function takeBackup(taking: Taking, report: Report = () => {}): Promise<Taken> {
  const { shelf, now } = taking;
  openShelf(shelf);
  needRoom(taking);
  const work = join(shelf, `${underWay}${process.pid}-${crypto.randomUUID().slice(0, 8)}`);
  mkdirSync(work, { mode: 0o700 });
  chmodSync(work, 0o700);
  try {
    const copy = join(work, databaseName);
    await copyDatabase(taking.database, copy, report);
    report('checking', 0, 1);
    const manifest = describe(copy, taking);
    writeWords(work, manifest);
    sync(work);
    const name = freeName(shelf, taking);
    const folder = join(shelf, name);
    renameSync(work, folder);
    sync(dirname(folder));
    report('proving', 0, 1);
    prove(folder, join(shelf, `${underWay}${name}`), now);
    writeProven(folder, now);
    const bytes = manifest.files[0]!.bytes;
    return { name, folder, bytes, provenAt: now, dropped: rotate(shelf, now) };
  } finally {
    rmSync(work, { recursive: true, force: true });
  }
}
