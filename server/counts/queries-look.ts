import { eq } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates } from '../schema/tables.ts';
import { gather } from './gather.ts';
import { readEstimate, refreshEstimate } from './queries-estimate.ts';

/**
 * After a look that counted nothing, or the undoing of one: the number is what it was, so only the day of the last look
 * is set, unless the look changed the health or the estimate was of another day. Many at once cost little that way.
 */
export function refreshAfterLook(tx: Db, cultureId: number, today: string, now: number) {
  const before = readEstimate(tx, cultureId);
  if (before?.asOf !== today) return refreshEstimate(tx, cultureId, today, now);
  const { health, lastCheckOn, lastCountOn, input } = gather(tx, cultureId, today);
  const isSame = health === before.health && lastCountOn === before.lastCountOn && input.events.length === 0;
  if (!isSame) return refreshEstimate(tx, cultureId, today, now);
  tx.update(cultureEstimates)
    .set({ lastCheckOn, workedOutAt: now })
    .where(eq(cultureEstimates.cultureId, cultureId))
    .run();
}
