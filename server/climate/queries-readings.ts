import { and, asc, desc, eq, gte, isNull, sql } from 'drizzle-orm';
import type { AirReading } from '../../shared/climate/air-warning.ts';
import { vpdKpa } from '../../shared/climate/vapour.ts';
import type { Day } from '../../shared/days.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type { Db } from '../plumbing/open-database.ts';
import { climateDays, climateReadings, places } from '../schema/tables.ts';
import { closedDays } from './queries-thinning.ts';

export type Reading = typeof climateReadings.$inferSelect;
export type ClimateDay = typeof climateDays.$inferSelect;
export type NewReading = { at: number; tempC: number; humidityPct: number | null };
type From = { placeId: number; timeZone: string; now: number } & (
  | { via: 'page' | 'file' | 'demo'; madeBy: string | null }
  | { via: 'sensor'; sensorId: number }
);

const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

/** Each quarter of an hour is of one day in every zone: asked for once. */
function dayReader(timeZone: string): (at: number) => Day {
  const known = new Map<number, Day>();
  return (at) => {
    const quarter = Math.floor(at / 900_000);
    const day = known.get(quarter) ?? dayInZone(at, timeZone);
    known.set(quarter, day);
    return day;
  };
}

/** Works out anew what the readings of a day come to. */
function refreshDay(tx: Db, placeId: number, onDay: string) {
  const ofDay = and(eq(climateReadings.placeId, placeId), eq(climateReadings.onDay, onDay));
  const rows = tx
    .select({ tempC: climateReadings.tempC, humidityPct: climateReadings.humidityPct })
    .from(climateReadings)
    .where(and(ofDay, isNull(climateReadings.withdrawnAt)))
    .all();
  tx.delete(climateDays)
    .where(and(eq(climateDays.placeId, placeId), eq(climateDays.onDay, onDay)))
    .run();
  if (rows.length === 0) return;
  const temps = rows.map(({ tempC }) => tempC);
  const moist = rows.flatMap(({ tempC, humidityPct }) =>
    humidityPct === null ? [] : [{ tempC, humidityPct }],
  );
  tx.insert(climateDays)
    .values({
      placeId,
      onDay,
      readings: rows.length,
      minC: Math.min(...temps),
      maxC: Math.max(...temps),
      meanC: mean(temps),
      meanHumidityPct: moist.length > 0 ? mean(moist.map((one) => one.humidityPct)) : null,
      meanVpdKpa: moist.length > 0 ? mean(moist.map((one) => vpdKpa(one.tempC, one.humidityPct))) : null,
    })
    .run();
}

/**
 * Writes readings down; those that are there already are passed over, and those of days of which single readings are
 * gone. Returns how many were new.
 */
export function insertReadings(tx: Db, readings: readonly NewReading[], from: From): number {
  const { placeId, timeZone, now, via } = from;
  const who = from.via === 'sensor' ? { sensorId: from.sensorId } : { madeBy: from.madeBy };
  const days = new Set<string>();
  const dayOf = dayReader(timeZone);
  const closed = closedDays(tx, placeId, [...new Set(readings.map(({ at }) => dayOf(at)))]);
  let added = 0;
  for (const reading of readings) {
    const onDay = dayOf(reading.at);
    if (closed.has(onDay)) continue;
    const { changes } = tx
      .insert(climateReadings)
      .values({ ...reading, ...who, placeId, onDay, via, madeAt: now })
      .onConflictDoNothing()
      .run();
    added += changes;
    if (changes > 0) days.add(onDay);
  }
  for (const onDay of days) refreshDay(tx, placeId, onDay);
  return added;
}

export function readReading(db: Db, placeId: number, id: number): Reading | undefined {
  return db
    .select()
    .from(climateReadings)
    .where(and(eq(climateReadings.id, id), eq(climateReadings.placeId, placeId)))
    .get();
}

/** Takes a reading out that was wrong; it stays readable. False where its day takes no more changes. */
export function withdrawReading(tx: Db, reading: Reading, by: { personId: string; now: number }): boolean {
  if (closedDays(tx, reading.placeId, [reading.onDay]).size > 0) return false;
  tx.update(climateReadings)
    .set({ withdrawnBy: by.personId, withdrawnAt: by.now })
    .where(eq(climateReadings.id, reading.id))
    .run();
  refreshDay(tx, reading.placeId, reading.onDay);
  return true;
}

const standing = (placeId: number) =>
  and(eq(climateReadings.placeId, placeId), isNull(climateReadings.withdrawnAt));

/** The readings since an instant, at most so many of the newest, oldest first. */
export function readingsSince(db: Db, placeId: number, since: number, most = 3_000): Reading[] {
  return db
    .select()
    .from(climateReadings)
    .where(and(standing(placeId), gte(climateReadings.at, since)))
    .orderBy(desc(climateReadings.at))
    .limit(most)
    .all()
    .reverse();
}

/** The same, less all that a warning does not ask for. */
export function temperaturesSince(db: Db, placeId: number, since: number, most: number): AirReading[] {
  const { at, tempC, sensorId } = climateReadings;
  return db
    .select({ at, tempC, sensorId })
    .from(climateReadings)
    .where(and(standing(placeId), gte(at, since)))
    .orderBy(desc(at))
    .limit(most)
    .all()
    .map((row) => ({ at: row.at, tempC: row.tempC, isSensor: row.sensorId !== null }))
    .reverse();
}

export function newestReadings(db: Db, placeId: number, most: number): Reading[] {
  return db
    .select()
    .from(climateReadings)
    .where(standing(placeId))
    .orderBy(desc(climateReadings.at))
    .limit(most)
    .all();
}

export function climateDaysSince(db: Db, placeId: number, since: string): ClimateDay[] {
  return db
    .select()
    .from(climateDays)
    .where(and(eq(climateDays.placeId, placeId), gte(climateDays.onDay, since)))
    .orderBy(asc(climateDays.onDay))
    .limit(1_000)
    .all();
}

/** The last day on which a place was read, also where the readings themselves are gone. */
export function lastReadDay(db: Db, placeId: number): Day | null {
  const { onDay } = climateDays;
  const found = db
    .select({ onDay })
    .from(climateDays)
    .where(eq(climateDays.placeId, placeId))
    .orderBy(desc(onDay))
    .limit(1)
    .get();
  return found?.onDay ?? null;
}

/** Places that were measured since a day. */
export function measuredPlaces(db: Db, since: string): Set<number> {
  const rows = db
    .select({ id: places.id })
    .from(places)
    .where(
      sql`EXISTS (SELECT 1 FROM climate_days d WHERE d.place_id = ${places.id} AND d.on_day >= ${since})`,
    )
    .all();
  return new Set(rows.map(({ id }) => id));
}
