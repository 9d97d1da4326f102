import { createHash } from 'node:crypto';
import { and, asc, gte, inArray, lt, ne } from 'drizzle-orm';
import type { ClimateReading } from '../../shared/climate/drying-form.ts';
import { saturationKpa } from '../../shared/climate/vapour.ts';
import { addDays } from '../../shared/days.ts';
import type { Db } from '../plumbing/open-database.ts';
import { climateDays, places } from '../schema/tables.ts';
import { measuredAround, placesById } from './queries-places.ts';
import type { ClimateDay } from './queries-readings.ts';

const rememberedDays = 240;

/** Named, so that of each place the days are looked up; years of older ones are not read through. */
const measurable = (db: Db) => db.select({ id: places.id }).from(places).where(ne(places.kind, 'position'));

/** What readings came to on the days that are over, as far back as anybody asks: by place and day. */
const finishedDays = (db: Db, today: string): ClimateDay[] =>
  db
    .select()
    .from(climateDays)
    .where(
      and(
        inArray(climateDays.placeId, measurable(db)),
        gte(climateDays.onDay, addDays(today, -rememberedDays)),
        lt(climateDays.onDay, today),
      ),
    )
    .orderBy(asc(climateDays.placeId), asc(climateDays.onDay))
    .all();

function byPlaceOf(days: readonly ClimateDay[]): Map<number, ClimateDay[]> {
  const byPlace = new Map<number, ClimateDay[]>();
  for (const day of days) {
    const own = byPlace.get(day.placeId);
    if (own) own.push(day);
    else byPlace.set(day.placeId, [day]);
  }
  return byPlace;
}

/** What readings came to on the days since one, by place: for a glance over several places at once. */
export function daysOfPlaces(db: Db, placeIds: readonly number[], since: string): Map<number, ClimateDay[]> {
  if (placeIds.length === 0) return new Map();
  const rows = db
    .select()
    .from(climateDays)
    .where(and(inArray(climateDays.placeId, [...placeIds]), gte(climateDays.onDay, since)))
    .orderBy(asc(climateDays.placeId), asc(climateDays.onDay))
    .all();
  return byPlaceOf(rows);
}

/**
 * The air of rooms day by day, up to yesterday: a day's mean is known when the day is over, and what is expected of a
 * culture does not change with every reading of a sensor.
 */
export function airReader(db: Db, today: string) {
  const byPlace = byPlaceOf(finishedDays(db, today));
  const measured = new Set(byPlace.keys());
  const all = measured.size > 0 ? placesById(db) : new Map();
  return (placeId: number | null): ClimateDay[] => {
    const at = measuredAround(all, measured, placeId);
    return (at !== null && byPlace.get(at)) || [];
  };
}

/** Another text whenever the air up to yesterday is another. */
export const airPrint = (db: Db, today: string): string =>
  createHash('sha256')
    .update(JSON.stringify(finishedDays(db, today)))
    .digest('base64');

/**
 * The days as readings with the same deficit: the mean of a day's deficits is not that of its mean temperature and
 * humidity, so the humidity is the one that gives it.
 */
export function asReadings(days: readonly ClimateDay[]): ClimateReading[] {
  return days.flatMap(({ onDay, meanC, meanVpdKpa }) => {
    if (meanVpdKpa === null) return [];
    const humidityPct = 100 * (1 - meanVpdKpa / saturationKpa(meanC));
    return [{ date: onDay, tempC: meanC, humidityPct: Math.min(100, Math.max(0, humidityPct)) }];
  });
}
