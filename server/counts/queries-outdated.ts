import { inArray } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates } from '../schema/tables.ts';
import { refreshEstimate } from './queries-estimate.ts';

/** So many rebuilds a person waits for; more are left to the threads, which begin within seconds. */
const atOnce = 12;

/**
 * Beliefs, reserves, enclosures or promises changed: what is known of these cultures is worked out anew from their diaries.
 * Few at once; many are marked as outdated and offer nothing for sale until the threads have been round.
 */
export function workOutAnew(tx: Db, cultureIds: readonly number[], today: string, now: number) {
  if (cultureIds.length <= atOnce) {
    for (const id of cultureIds) refreshEstimate(tx, id, today, now);
    return;
  }
  markOutdated(tx, cultureIds);
}

/** What is known of these cultures no longer holds: nothing is offered until the threads have been round. */
export function markOutdated(tx: Db, cultureIds: readonly number[]) {
  const ids = [...cultureIds];
  while (ids.length > 0) {
    tx.update(cultureEstimates)
      .set({ asOf: '', promisable: 0, spareAnimals: 0, spareGroups: 0 })
      .where(inArray(cultureEstimates.cultureId, ids.splice(0, 500)))
      .run();
  }
}
