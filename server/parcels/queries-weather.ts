import { and, asc, desc, eq, gt, gte, inArray, isNull, lte, or, sql } from 'drizzle-orm';
import type { Low } from '../../shared/parcels/days-of-hours.ts';
import type { PlaceWeather } from '../../shared/parcels/parcel-options-form.ts';
import type { ServiceKey } from '../../shared/parcels/weather-form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { weatherDays, weatherFetches, weatherPlaces, weatherServices } from '../schema/tables.ts';

export type WeatherPlace = typeof weatherPlaces.$inferSelect;
export type WeatherDay = typeof weatherDays.$inferSelect;
export type WeatherService = typeof weatherServices.$inferSelect;
export type WeatherFetch = typeof weatherFetches.$inferSelect;
export type WeatherPlaceValues = Omit<WeatherPlace, 'id' | 'madeAt' | 'retiredAt'>;

const partOrder = { origin: 0, hub: 1, destination: 2 } as const;
const byName = new Intl.Collator('en', { numeric: true });

/** All places, in the order a parcel comes through them; those no longer used last. */
export function listWeatherPlaces(db: Db): WeatherPlace[] {
  return db
    .select()
    .from(weatherPlaces)
    .all()
    .sort(
      (a, b) =>
        Number(a.retiredAt !== null) - Number(b.retiredAt !== null) ||
        partOrder[a.part] - partOrder[b.part] ||
        byName.compare(a.name, b.name),
    );
}

export const readWeatherPlace = (db: Db, id: number): WeatherPlace | undefined =>
  db.select().from(weatherPlaces).where(eq(weatherPlaces.id, id)).get();
export const weatherPlaceNamed = (db: Db, name: string): WeatherPlace | undefined =>
  db.select().from(weatherPlaces).where(eq(weatherPlaces.name, name)).get();

export const insertWeatherPlace = (tx: Db, values: WeatherPlaceValues, madeAt: number): number =>
  tx
    .insert(weatherPlaces)
    .values({ ...values, madeAt })
    .returning({ id: weatherPlaces.id })
    .get().id;

/** A place that moved has no weather of its own any more: what was said of the old coordinates goes. */
export function updateWeatherPlace(tx: Db, before: WeatherPlace, values: WeatherPlaceValues): void {
  tx.update(weatherPlaces).set(values).where(eq(weatherPlaces.id, before.id)).run();
  if (before.latitude === values.latitude && before.longitude === values.longitude) return;
  tx.delete(weatherDays).where(eq(weatherDays.placeId, before.id)).run();
  tx.delete(weatherFetches).where(eq(weatherFetches.placeId, before.id)).run();
}

export function setWeatherPlaceRetired(tx: Db, id: number, retiredAt: number | null): void {
  tx.update(weatherPlaces).set({ retiredAt }).where(eq(weatherPlaces.id, id)).run();
}

export type Said = {
  placeId: number;
  source: string;
  forecastAt: number;
  via: WeatherDay['via'];
  madeBy: string | null;
  madeAt: number;
};

/** Writes lows and highs down; an older forecast of the same source does not take the place of a newer one. */
export function writeWeatherDays(tx: Db, days: readonly Low[], said: Said): number {
  let written = 0;
  for (const { date: onDay, minC, maxC } of days) {
    const values = { ...said, minC, maxC };
    const { changes } = tx
      .insert(weatherDays)
      .values({ ...values, onDay })
      .onConflictDoUpdate({
        target: [weatherDays.placeId, weatherDays.onDay, weatherDays.source],
        set: values,
        setWhere: lte(weatherDays.forecastAt, said.forecastAt),
      })
      .run();
    written += changes;
  }
  return written;
}

export function takeOutWeatherDay(tx: Db, placeId: number, onDay: string, source: string): void {
  tx.delete(weatherDays)
    .where(
      and(eq(weatherDays.placeId, placeId), eq(weatherDays.onDay, onDay), eq(weatherDays.source, source)),
    )
    .run();
}

/** What every source says of a place from a day on, the newest first within a day. */
export function weatherOfPlace(db: Db, placeId: number, from: string): WeatherDay[] {
  return db
    .select()
    .from(weatherDays)
    .where(and(eq(weatherDays.placeId, placeId), gte(weatherDays.onDay, from)))
    .orderBy(asc(weatherDays.onDay), desc(weatherDays.forecastAt))
    .limit(400)
    .all();
}

/** The newest word on each day of some places: what parcels are worked out by. */
export function newestWeather(db: Db, placeIds: readonly number[], from: string): Map<number, WeatherDay[]> {
  const rows = db
    .select()
    .from(weatherDays)
    .where(and(inArray(weatherDays.placeId, [...placeIds]), gte(weatherDays.onDay, from)))
    .orderBy(asc(weatherDays.placeId), asc(weatherDays.onDay), desc(weatherDays.forecastAt))
    .all();
  const found = new Map<number, WeatherDay[]>();
  for (const row of rows) {
    const own = found.get(row.placeId) ?? [];
    if (own.at(-1)?.onDay !== row.onDay) own.push(row);
    found.set(row.placeId, own);
  }
  return found;
}

/** A place with its newest weather, as `parcel-options` takes it. */
export function placeWeatherOf(place: WeatherPlace, days: readonly WeatherDay[]): PlaceWeather {
  return {
    name: place.name,
    latitude: place.latitude,
    days: days.map(({ onDay, minC, maxC }) => ({ date: onDay, minC, maxC })),
  };
}

/** Days that are long gone are of no use to a parcel. */
export function forgetOldWeather(db: Db, before: string): number {
  return db.delete(weatherDays).where(sql`${weatherDays.onDay} < ${before}`).run().changes;
}

export const listWeatherServices = (db: Db): WeatherService[] => db.select().from(weatherServices).all();

export function saveWeatherService(tx: Db, values: Omit<WeatherService, 'pausedUntil'>): void {
  const all = { ...values, pausedUntil: null };
  tx.insert(weatherServices)
    .values(all)
    .onConflictDoUpdate({ target: weatherServices.service, set: all })
    .run();
  // What was answered elsewhere says nothing about what has changed here.
  tx.delete(weatherFetches).where(eq(weatherFetches.service, values.service)).run();
}

export function pauseService(tx: Db, service: ServiceKey, until: number): void {
  tx.update(weatherServices).set({ pausedUntil: until }).where(eq(weatherServices.service, service)).run();
}

export const fetchesOf = (db: Db, placeId: number): WeatherFetch[] =>
  db.select().from(weatherFetches).where(eq(weatherFetches.placeId, placeId)).all();

export const readFetch = (db: Db, placeId: number, service: ServiceKey): WeatherFetch | undefined =>
  db
    .select()
    .from(weatherFetches)
    .where(and(eq(weatherFetches.placeId, placeId), eq(weatherFetches.service, service)))
    .get();

export function saveFetch(tx: Db, fetch: WeatherFetch): void {
  tx.insert(weatherFetches)
    .values(fetch)
    .onConflictDoUpdate({ target: [weatherFetches.placeId, weatherFetches.service], set: fetch })
    .run();
}

/** Services and places that a clock far ahead would keep waiting may be asked now. */
export function hurryForecasts(tx: Db, now: number): void {
  const far = now + 2 * 86_400_000;
  tx.update(weatherFetches).set({ nextAt: now }).where(gt(weatherFetches.nextAt, far)).run();
  tx.update(weatherServices).set({ pausedUntil: null }).where(gt(weatherServices.pausedUntil, far)).run();
}

/** Places a service may be asked about now: never asked, or the last answer has run out. */
export function placesDue(db: Db, service: ServiceKey, now: number): WeatherPlace[] {
  return db
    .select({ place: weatherPlaces })
    .from(weatherPlaces)
    .leftJoin(
      weatherFetches,
      and(eq(weatherFetches.placeId, weatherPlaces.id), eq(weatherFetches.service, service)),
    )
    .where(
      and(
        isNull(weatherPlaces.retiredAt),
        or(isNull(weatherFetches.nextAt), lte(weatherFetches.nextAt, now)),
      ),
    )
    .orderBy(asc(weatherPlaces.id))
    .all()
    .map(({ place }) => place);
}
