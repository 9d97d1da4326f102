import { and, isNull, ne, sql } from 'drizzle-orm';
import {
  type AirWarning,
  airWarnings,
  BACK_BY_C,
  BACK_FOR_MS,
  FRESH_MS,
} from '../../shared/climate/air-warning.ts';
import type { KeptSpecies } from '../../shared/climate/limits.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { places } from '../schema/tables.ts';
import { keptByMeasuredPlace, measuredAround, placesById } from './queries-places.ts';
import { temperaturesSince } from './queries-readings.ts';

export type PlaceWarning = AirWarning & { placeId: number; place: string };

/** So far back it is looked for when the air left the range; what began before is "before all readings". */
const backMs = 3 * 86_400_000;
/** A reading every five minutes for more than a day: with more of them nobody waits for when it began. */
const mostReadings = 400;

/** What was read at a place just now: the lowest and the highest of the newest reading and those shortly before. */
type Newest = { placeId: number; lowC: number; highC: number };

/** Places with a reading that still says something: of each place two looks into an index. */
function freshPlaces(db: Db, now: number): Map<number, Newest> {
  const standing = sql`r.place_id = places.id AND r.withdrawn_at IS NULL`;
  const newest = sql<number | null>`(SELECT r.temp_c FROM climate_readings r
    WHERE ${standing} AND r.at >= ${now - FRESH_MS} ORDER BY r.at DESC LIMIT 1)`;
  const lately = (extreme: 'min' | 'max') => sql<number | null>`(SELECT ${sql.raw(extreme)}(r.temp_c)
    FROM climate_readings r WHERE ${standing} AND r.at >= ${now - BACK_FOR_MS})`;
  return new Map(
    db
      .select({ placeId: places.id, newest, low: lately('min'), high: lately('max') })
      .from(places)
      .where(and(ne(places.kind, 'position'), isNull(places.retiredAt)))
      .all()
      .flatMap(({ placeId, newest: c, low, high }) => {
        if (c === null) return [];
        return [[placeId, { placeId, lowC: Math.min(c, low ?? c), highC: Math.max(c, high ?? c) }] as const];
      }),
  );
}

/** Whether a place may be out of range: only then are its readings looked through. */
const mayBeOut = ({ lowC, highC }: Newest, kept: readonly KeptSpecies[]) =>
  kept.some(({ safeLowC, safeHighC }) => highC > safeHighC - BACK_BY_C || lowC < safeLowC + BACK_BY_C);

function warningsAt(db: Db, newest: Newest, kept: readonly KeptSpecies[], now: number): AirWarning[] {
  if (!mayBeOut(newest, kept)) return [];
  return airWarnings(temperaturesSince(db, newest.placeId, now - backMs, mostReadings), kept, now);
}

const isDeadly = ({ species }: AirWarning) => species.some(({ deadlyC }) => deadlyC !== null);

export type AirNow = {
  /** The worst first. */
  warnings: PlaceWarning[];
  /** The place whose air that of a place is: itself or the nearest around it with a reading that is not old. */
  around: (placeId: number | null) => number | null;
};

/** How warnings are written, and what time it is. */
export const airSaid = ({ business, today, clock }: Pick<StaffCall, 'business' | 'today' | 'clock'>) => ({
  units: business.units,
  timeZone: business.timeZone,
  locale: business.locale,
  today,
  now: clock.now(),
});

/** Every measured place whose air is out of range for a species kept there. */
export function airNow(db: Db, now: number): AirNow {
  const fresh = freshPlaces(db, now);
  if (fresh.size === 0) return { warnings: [], around: () => null };
  const all = placesById(db);
  const measured = new Set(fresh.keys());
  const warnings = [...keptByMeasuredPlace(db, all, measured)].flatMap(([placeId, kept]) => {
    const newest = fresh.get(placeId);
    const place = all.get(placeId)?.fullName ?? '';
    return newest ? warningsAt(db, newest, kept, now).map((one) => ({ ...one, placeId, place })) : [];
  });
  warnings.sort((a, b) => Number(isDeadly(b)) - Number(isDeadly(a)));
  return { warnings, around: (placeId) => measuredAround(all, measured, placeId) };
}

/** The same for one culture: the air around it and its own species alone. */
export function airOfCulture(
  db: Db,
  placeId: number | null,
  own: Omit<KeptSpecies, 'cultures'>,
  now: number,
): PlaceWarning[] {
  const fresh = placeId === null ? new Map<number, Newest>() : freshPlaces(db, now);
  if (fresh.size === 0) return [];
  const all = placesById(db);
  const at = measuredAround(all, new Set(fresh.keys()), placeId);
  const newest = at === null ? undefined : fresh.get(at);
  if (at === null || !newest) return [];
  const place = all.get(at)?.fullName ?? '';
  const { scientificName, lethalLowC, safeLowC, safeHighC, lethalHighC } = own;
  const kept = [{ scientificName, lethalLowC, safeLowC, safeHighC, lethalHighC, cultures: 1 }];
  return warningsAt(db, newest, kept, now).map((one) => ({ ...one, placeId: at, place }));
}
