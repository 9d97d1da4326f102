import { and, eq, inArray, lt, sql } from 'drizzle-orm';
import { firstKeptDays, GRACE_MS } from '../../shared/climate/keeping.ts';
import { addDays, type Day } from '../../shared/days.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type { Db } from '../plumbing/open-database.ts';
import { climateClosedDays, climateKeeping, climateReadings, places } from '../schema/tables.ts';
import { readBusiness } from '../settings/queries.ts';

/** As many go in one transaction: a few milliseconds, for which nobody else can write. */
const batch = 500;
/** As many go at once, before other work has its turn; the rest a few minutes later. */
const mostAtOnce = 2_000;

export type Keeping = { days: number; changedAt: number | null };

export function readKeeping(db: Db): Keeping {
  const row = db.select().from(climateKeeping).get();
  return { days: row?.days ?? firstKeptDays, changedAt: row?.changedAt ?? null };
}

export function saveKeeping(tx: Db, days: number, changedAt: number) {
  tx.insert(climateKeeping)
    .values({ id: 1, days, changedAt })
    .onConflictDoUpdate({ target: climateKeeping.id, set: { days, changedAt } })
    .run();
}

/** Readings of the days before this one go. */
export const keptFrom = (today: Day, days: number): Day => addDays(today, -days);

/** Places with single readings from before a day: of each one look into an index. */
const placesBefore = (db: Db, before: Day): number[] =>
  db
    .select({ id: places.id })
    .from(places)
    .where(
      sql`EXISTS (SELECT 1 FROM climate_readings r WHERE r.place_id = ${places.id} AND r.on_day < ${before})`,
    )
    .all()
    .map(({ id }) => id);

/** How many single readings are from before a day. */
export function readingsBefore(db: Db, before: Day): number {
  const found = db
    .select({
      n: sql<number>`coalesce(sum((SELECT count(*) FROM climate_readings r
        WHERE r.place_id = places.id AND r.on_day < ${before})), 0)`,
    })
    .from(places)
    .get();
  return found?.n ?? 0;
}

/** What went so far: readings, and the days they were of. */
export function thinnedSoFar(db: Db): { readings: number; days: number } {
  const { readings } = climateClosedDays;
  const found = db
    .select({ readings: sql<number>`coalesce(sum(${readings}), 0)`, days: sql<number>`count(*)` })
    .from(climateClosedDays)
    .get();
  return found ?? { readings: 0, days: 0 };
}

/** The days of a place, of some, of which single readings are gone. */
export function closedDays(db: Db, placeId: number, days: readonly Day[]): Set<Day> {
  const { onDay } = climateClosedDays;
  const found = new Set<Day>();
  for (let from = 0; from < days.length; from += batch) {
    const some = days.slice(from, from + batch);
    const rows = db
      .select({ onDay })
      .from(climateClosedDays)
      .where(and(eq(climateClosedDays.placeId, placeId), inArray(onDay, some)))
      .all();
    for (const row of rows) found.add(row.onDay);
  }
  return found;
}

function close(tx: Db, placeId: number, days: readonly Day[], closedAt: number) {
  const counts = new Map<Day, number>();
  for (const onDay of days) counts.set(onDay, (counts.get(onDay) ?? 0) + 1);
  const { readings, onDay: day } = climateClosedDays;
  for (const [onDay, count] of counts)
    tx.insert(climateClosedDays)
      .values({ placeId, onDay, readings: count, closedAt })
      .onConflictDoUpdate({
        target: [climateClosedDays.placeId, day],
        set: { readings: sql`${readings} + ${count}`, closedAt },
      })
      .run();
}

/** Takes some of a place's oldest readings out, and closes their days, in one short transaction. */
function thinSome(db: Db, placeId: number, before: Day, most: number, now: number): number {
  return db.transaction(
    (tx) => {
      const { id, onDay } = climateReadings;
      const rows = tx
        .select({ id, onDay })
        .from(climateReadings)
        .where(and(eq(climateReadings.placeId, placeId), lt(onDay, before)))
        .orderBy(onDay)
        .limit(most)
        .all();
      if (rows.length === 0) return 0;
      close(
        tx,
        placeId,
        rows.map((row) => row.onDay),
        now,
      );
      const ids = rows.map((row) => row.id);
      tx.delete(climateReadings).where(inArray(id, ids)).run();
      return rows.length;
    },
    { behavior: 'immediate' },
  );
}

/**
 * Takes single readings out that are older than the owner wants them kept; what their days came to stays. Nothing goes
 * within a day of a change of how long they are kept, nor within a day of the first time it is considered. Returns how
 * many went; the rest goes at the next turn.
 */
export function thinReadings(db: Db, now: number, most = mostAtOnce): number {
  const { days, changedAt } = readKeeping(db);
  const before = keptFrom(dayInZone(now, readBusiness(db).timeZone), days);
  if (changedAt === null && placesBefore(db, before).length > 0) saveKeeping(db, days, now);
  if (changedAt === null || now - changedAt < GRACE_MS) return 0;
  let gone = 0;
  for (const placeId of placesBefore(db, before)) {
    let went = -1;
    while (went !== 0 && gone < most) {
      went = thinSome(db, placeId, before, Math.min(batch, most - gone), now);
      gone += went;
    }
  }
  return gone;
}
