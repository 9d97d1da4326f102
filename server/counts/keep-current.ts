import { dayInZone } from '../../shared/zone-day.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { JobsLog } from '../plumbing/jobs.ts';
import { keepLooking } from '../plumbing/keep-looking.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readBusiness } from '../settings/queries.ts';
import { refreshStale, staleCultures } from './refresh-all.ts';

/** What a day of orders has outdated offers nothing until it was looked for. */
const everyMs = 2_000;

/**
 * Keeps estimates of today: at the start, at the business's midnight, and after changes that left many to be worked
 * out anew. Works in threads, so pages go on being answered. Returns what stops it.
 */
export function keepEstimatesCurrent({ db, clock, log }: { db: Db; clock: Clock; log: JobsLog }): () => void {
  const look = async (isStopped: () => boolean) => {
    const today = dayInZone(clock.now(), readBusiness(db).timeZone);
    const stale = staleCultures(db, today).length;
    if (stale === 0) return;
    await refreshStale(db, { today, now: clock.now, isStopped });
    log.info({ cultures: stale }, 'estimates brought up to today');
  };
  const failed = 'estimates could not be brought up to today';
  // What a culture lacks then is worked out at the next start: nobody waits for it.
  const stop = keepLooking(look, { everyMs, log, failed, longestGoodByeMs: 0 });
  return () => void stop();
}
