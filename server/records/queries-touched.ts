import { inArray } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, importTouched } from '../schema/tables.ts';

/** How a culture stood before an import wrote into its diary. */
export type Standing = {
  cultureId: number;
  placeId: number | null;
  status: 'active' | 'quarantine' | 'retired';
};

export function readStandings(db: Db, cultureIds: readonly number[]): Standing[] {
  return db
    .select({ cultureId: cultures.id, placeId: cultures.placeId, status: cultures.status })
    .from(cultures)
    .where(inArray(cultures.id, [...cultureIds]))
    .all();
}

export function keepStandings(tx: Db, importId: number, standings: readonly Standing[]): void {
  for (const standing of standings)
    tx.insert(importTouched)
      .values({ ...standing, importId })
      .run();
}
