import { existsSync, readFileSync, renameSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { databaseName } from '../../shared/backups/manifest.ts';
import { listErasures, type replayErasures } from '../customers/queries-erase.ts';
import type { JobsLog } from '../plumbing/jobs.ts';
import { sync, writePrivate } from '../plumbing/lasting-files.ts';
import { type Db, openCopy } from '../plumbing/open-database.ts';
import { BadBackup } from './inspect.ts';
import { listBackups } from './shelf.ts';

export type Erasures = Parameters<typeof replayErasures>[1];

/** Who was erased, by numbers alone, outside the database: it must outlive the database that an older backup replaces. */
const listName = 'erased.json';

const instant = z.number().int();
const listSchema = z.array(
  z.strictObject({ customerId: z.number().int(), customerMadeAt: instant, erasedAt: instant }),
);

/** The list of a folder; empty where there is none. Throws BadBackup where it cannot be read: nobody may be forgotten. */
function listIn(folder: string): Erasures {
  const path = join(folder, listName);
  if (!existsSync(path)) return [];
  try {
    return listSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
  } catch {
    throw new BadBackup(
      `${path} says who was erased and must not come back, and it cannot be read. Mend it; or, if you know of nobody, move it away and restore again.`,
    );
  }
}

const keyOf = ({ customerId, customerMadeAt }: Erasures[number]) => `${customerId} ${customerMadeAt}`;

const together = (...lists: readonly Erasures[]): Erasures => [
  ...new Map(lists.flat().map((one) => [keyOf(one), one])).values(),
];

/** Writes the list anew beside the old one and puts it in its place in one step. */
function writeList(folder: string, erasures: Erasures): void {
  const path = join(folder, listName);
  writePrivate(`${path}-new`, `${JSON.stringify(erasures)}\n`);
  renameSync(`${path}-new`, path);
  sync(folder);
}

/** Adds to a folder's list; a customer who is in it stays in it, whatever the database of the moment knows. */
export function keepList(folder: string, erasures: Erasures): void {
  const there = listIn(folder);
  const all = together(there, erasures);
  if (all.length > there.length) writeList(folder, all);
}

/**
 * Keeps who was erased beside the database, and with the backups, which may lie on another disk. What cannot be written
 * stays open and is tried again: the erasing itself is done. Open at first, too, since the last stop may have come
 * between the erasing and the list.
 */
export function rememberErased(db: Db, folders: readonly string[], log: Pick<JobsLog, 'error'>) {
  let isOpen = true;
  const write = () => {
    try {
      const erasures = listErasures(db);
      for (const folder of folders) if (existsSync(folder)) keepList(folder, erasures);
      isOpen = false;
    } catch (err) {
      isOpen = true;
      log.error({ err }, 'the list of who was erased could not be written');
    }
  };
  return { write, writeIfOpen: () => isOpen && write() };
}

/** Who was erased, in a database that may be older than that, or damaged: what cannot be read tells nothing. */
function erasuresIn(file: string): Erasures {
  if (!existsSync(file)) return [];
  try {
    const sqlite = openCopy(file, { readonly: true });
    try {
      return sqlite
        .prepare(
          'SELECT customer_id AS customerId, customer_made_at AS customerMadeAt, erased_at AS erasedAt FROM erasures',
        )
        .all() as Erasures[number][];
    } finally {
      sqlite.close();
    }
  } catch {
    return [];
  }
}

/**
 * Who was erased after a backup was made, as far as anything at hand still knows it: the lists beside the database and
 * beside the backup, the database that is replaced, and the newest backup beside the one that is restored.
 */
export function erasedSince(folder: string, into: string): Erasures {
  const shelf = dirname(folder);
  const newest = listBackups(shelf)[0];
  return together(
    listIn(into),
    listIn(shelf),
    erasuresIn(join(into, databaseName)),
    newest ? erasuresIn(join(newest.folder, databaseName)) : [],
  );
}
