import { eq, inArray, sql } from 'drizzle-orm';
import { type Believed, believedOn, trendDays } from '../../shared/counts/trend.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates, cultures } from '../schema/tables.ts';

/** Half a year in steps of two weeks: enough to see a way, and few enough to look each one up. */
const steps = 13;
const everyDays = 14;

type Found = { cultureId: number; onDay: string; last: string | null; next: string | null };

function readBelieved(json: string | null): Believed | null {
  if (json === null) return null;
  const [onDay, median, lower, upper] = JSON.parse(json) as [string, number, number, number];
  return { onDay, median, lower, upper };
}

/** For each culture and day the stored points on both sides: two look-ups each, however long the diaries are. */
function pointsAround(db: Db, cultureIds: readonly number[], days: readonly string[]): Found[] {
  return db.all<Found>(sql`
    SELECT c.value AS cultureId, day.value AS onDay,
      (SELECT json_array(e.on_day, e.after_median, e.after_lower, e.after_upper) FROM estimate_points e
        WHERE e.culture_id = c.value AND e.on_day <= day.value
        ORDER BY e.on_day DESC, e.position DESC LIMIT 1) AS last,
      (SELECT json_array(e.on_day, e.before_median, e.before_lower, e.before_upper) FROM estimate_points e
        WHERE e.culture_id = c.value AND e.on_day > day.value
        ORDER BY e.on_day, e.position LIMIT 1) AS next
    FROM json_each(${JSON.stringify(cultureIds)}) c, json_each(${JSON.stringify(days)}) day`);
}

type Now = { believed: Believed | null; isOver: boolean };

/** What is believed now; of a retired culture, which is over, what was believed last. */
function believedNow(db: Db, cultureIds: number[]): Map<number, Now> {
  const { cultureId, asOf: onDay, median, lower, upper } = cultureEstimates;
  const rows = db
    .select({ cultureId, onDay, median, lower, upper, status: cultures.status })
    .from(cultureEstimates)
    .innerJoin(cultures, eq(cultures.id, cultureId))
    .where(inArray(cultureId, cultureIds))
    .all();
  return new Map(
    rows.map(({ cultureId, onDay, median, lower, upper, status }) => {
      const isKnown = median !== null && lower !== null && upper !== null;
      return [
        cultureId,
        { believed: isKnown ? { onDay, median, lower, upper } : null, isOver: status === 'retired' },
      ];
    }),
  );
}

/** How many were believed to be in each of these cultures, every two weeks of the last half year. */
export function readTrends(db: Db, cultureIds: number[], today: string): Map<number, Believed[]> {
  const trends = new Map<number, Believed[]>();
  if (cultureIds.length === 0) return trends;
  const now = believedNow(db, cultureIds);
  for (const { cultureId, onDay, last, next } of pointsAround(
    db,
    cultureIds,
    trendDays(today, steps, everyDays),
  )) {
    const { believed = null, isOver = false } = now.get(cultureId) ?? {};
    if (isOver && believed && onDay > believed.onDay) continue;
    const point = believedOn(onDay, readBelieved(last), readBelieved(next) ?? believed);
    if (point) trends.set(cultureId, [...(trends.get(cultureId) ?? []), point]);
  }
  return trends;
}
