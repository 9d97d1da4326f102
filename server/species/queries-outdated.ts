import { refreshEstimate } from '../counts/queries-estimate.ts';
import type { Db } from '../plumbing/open-database.ts';

/** Beliefs, reserves or enclosures changed: what is known of these cultures is worked out anew from their diaries. */
export function workOutAnew(tx: Db, cultureIds: readonly number[], today: string, now: number) {
  for (const id of cultureIds) refreshEstimate(tx, id, today, now);
}
