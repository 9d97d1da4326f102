import { clockSeen } from '../schema/tables.ts';
import type { Clock } from './clock.ts';
import type { Db } from './open-database.ts';

const msPerHour = 3_600_000;
const msPerDay = 24 * msPerHour;

/** The service may be off for a holiday; a clock that is further on than that may be wrong. */
const longestPauseMs = 8 * msPerDay;

/** What is to be done when the clock has gone back. */
export type WhenBack = {
  /** Ends for good what was over by then: whoever was turned away is not let in by an older clock. */
  end: readonly ((db: Db, at: number) => void)[];
  /** Goes on from now: what an instant far ahead would keep waiting, or living, for years. */
  goOn: readonly ((db: Db, now: number) => void)[];
};

const seen = (db: Db) => db.select().from(clockSeen).get();

function keep(db: Db, row: { latestAt: number; steadySince: number }) {
  db.insert(clockSeen)
    .values({ id: 1, ...row })
    .onConflictDoUpdate({ target: clockSeen.id, set: row })
    .run();
}

/**
 * Keeps how late it is; to be called every few minutes. Whether the clock has gone on for a day without a leap: as long
 * as it has not, nothing that people wrote is thrown away for its age. A new database knows of no leap.
 */
export function rememberTime(db: Db, now: number): boolean {
  const before = seen(db) ?? { latestAt: now, steadySince: 0 };
  const leapt = now < before.latestAt - msPerHour || now > before.latestAt + longestPauseMs;
  const steadySince = leapt ? now : before.steadySince;
  keep(db, { latestAt: now, steadySince });
  return now - steadySince >= msPerDay;
}

const watched = new WeakSet<Clock>();

/**
 * A clock that notices when it goes back, also while the service was off. It goes back with the machine's, since one
 * that was ahead by mistake would otherwise stop everything for years; but first what was over by the latest instant is
 * ended for good. Where that cannot be written, the clock stands still at the latest instant until it can.
 */
export function watchClock(inner: Clock, db: Db, { end, goOn }: WhenBack): Clock {
  if (watched.has(inner)) return inner;
  let latest = seen(db)?.latestAt ?? Number.NEGATIVE_INFINITY;
  const goBack = (to: number): boolean => {
    try {
      db.transaction(
        (tx) => {
          for (const one of end) one(tx, latest);
          for (const one of goOn) one(tx, to);
          rememberTime(tx, to);
        },
        { behavior: 'immediate' },
      );
      return true;
    } catch {
      return false;
    }
  };
  const clock: Clock = {
    now() {
      const at = inner.now();
      if (at < latest && !goBack(at)) return latest;
      latest = at;
      return at;
    },
  };
  watched.add(clock);
  return clock;
}
