import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { databaseName } from '../../shared/backups/manifest.ts';
import type { replayErasures } from '../customers/queries-erase.ts';
import { openCopy } from '../plumbing/open-database.ts';
import { listBackups } from './shelf.ts';

export type Erasures = Parameters<typeof replayErasures>[1];

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
 * Who was erased after a backup was made, as far as anything at hand still knows it: the database that is replaced, and
 * the newest backup beside the one that is restored.
 */
export function erasedSince(folder: string, into: string): Erasures {
  const newest = listBackups(dirname(folder))[0];
  const known = [
    ...erasuresIn(join(into, databaseName)),
    ...(newest ? erasuresIn(join(newest.folder, databaseName)) : []),
  ];
  return [...new Map(known.map((one) => [one.customerId, one])).values()];
}
