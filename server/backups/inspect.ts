import { lstatSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import {
  databaseName,
  type Manifest,
  manifestName,
  manifestSchema,
  readSums,
  sumsName,
} from '../../shared/backups/manifest.ts';
import { sha256OfFile } from '../plumbing/lasting-files.ts';
import { readMigrations } from '../plumbing/migrate.ts';
import { openCopy, type Sqlite } from '../plumbing/open-database.ts';

/** Why a backup cannot be used, in words for whoever wants to. */
export class BadBackup extends Error {}

export type Backup = { folder: string; name: string; manifest: Manifest };

const mostBytesOfWords = 1_000_000;

/** A small file of ours as text. A link could lead anywhere, so it is no file of ours. */
function wordsOf(folder: string, name: string): string {
  const path = join(folder, name);
  const stat = lstatSync(path, { throwIfNoEntry: false });
  if (!stat?.isFile()) throw new BadBackup(`${path} is missing or is not a plain file.`);
  if (stat.size === 0 || stat.size > mostBytesOfWords)
    throw new BadBackup(`${path} is empty or far too large.`);
  return readFileSync(path, 'latin1');
}

/** What the manifest says, once it is certain that it is the one that was written. Reads no database. */
export function readBackup(folder: string): Backup {
  const sums = readSums(wordsOf(folder, sumsName));
  if (!sums || [...sums.keys()].sort().join() !== [databaseName, manifestName].sort().join())
    throw new BadBackup(`${join(folder, sumsName)} is damaged: it does not list the two files of a backup.`);
  const text = wordsOf(folder, manifestName);
  if (sha256OfFile(join(folder, manifestName)) !== sums.get(manifestName))
    throw new BadBackup(`${join(folder, manifestName)} is damaged: its checksum is another one.`);
  const manifest = manifestSchema.safeParse(parsedOrNull(text));
  if (!manifest.success)
    throw new BadBackup(
      `${join(folder, manifestName)} is not the description of a backup this program knows.`,
    );
  if (manifest.data.files[0]?.sha256 !== sums.get(databaseName))
    throw new BadBackup(`${folder} is damaged: its two checksums of the database are not the same.`);
  return { folder, name: basename(folder), manifest: manifest.data };
}

function parsedOrNull(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** Stops at a backup that this program cannot bring up to date. */
export function refuseNewer({ manifest }: Backup): void {
  const newest = Math.max(0, ...readMigrations().map(({ number }) => number));
  if (manifest.schema > newest)
    throw new BadBackup(
      `The backup was made by version ${manifest.appVersion} with schema ${manifest.schema}; this program knows schemas up to ${newest}. Restore it with that version or a later one.`,
    );
}

/** Whether a file is byte for byte the database of the backup. */
export function checkBytes(file: string, { manifest }: Backup): void {
  const [described] = manifest.files;
  const stat = lstatSync(file, { throwIfNoEntry: false });
  if (!stat?.isFile()) throw new BadBackup(`${file} is missing or is not a plain file.`);
  if (stat.size !== described?.bytes)
    throw new BadBackup(`${file} is ${stat.size} bytes long, and was ${described?.bytes} when it was made.`);
  if (sha256OfFile(file) !== described.sha256)
    throw new BadBackup(`${file} is damaged: its checksum is another one.`);
}

/** Rows in each table of ours; the pages of search indexes belong to those. */
export function countRows(sqlite: Sqlite): Record<string, number> {
  const names = sqlite
    .prepare(
      "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
    )
    .pluck()
    .all() as string[];
  return Object.fromEntries(
    names.map((name) => [name, sqlite.prepare(`SELECT count(*) FROM "${name}"`).pluck().get() as number]),
  );
}

/** SQLite's own checks; null when all is well, else what it found first. */
export function faultOf(sqlite: Sqlite): string | null {
  const found = sqlite.pragma('integrity_check(1)', { simple: true });
  if (found !== 'ok') return String(found);
  const orphans = sqlite.pragma('foreign_key_check') as unknown[];
  return orphans.length > 0 ? `${orphans.length} rows have lost what they belong to` : null;
}

/** Opens the copy and asks it everything the manifest promises. */
export function checkContents(file: string, { manifest }: Backup): void {
  const sqlite = openCopy(file, { readonly: true });
  try {
    const fault = faultOf(sqlite);
    if (fault) throw new BadBackup(`${file} does not hold together: ${fault}.`);
    const schema = sqlite.prepare('SELECT max(number) FROM migrations').pluck().get();
    if (schema !== manifest.schema)
      throw new BadBackup(`${file} has schema ${schema}, its description says ${manifest.schema}.`);
    const rows = countRows(sqlite);
    for (const name of new Set([...Object.keys(rows), ...Object.keys(manifest.rows)]))
      if (rows[name] !== manifest.rows[name])
        throw new BadBackup(
          `${name} has ${rows[name] ?? 'no'} rows in ${file}, its description says ${manifest.rows[name] ?? 'none'}.`,
        );
  } finally {
    sqlite.close();
  }
}

/** Everything that can be known without restoring it. */
export function verifyBackup(folder: string): Backup {
  const backup = readBackup(folder);
  refuseNewer(backup);
  const file = join(folder, databaseName);
  checkBytes(file, backup);
  checkContents(file, backup);
  return backup;
}
