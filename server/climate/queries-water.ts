import { gt, inArray, max, ne } from 'drizzle-orm';
import type { ClimateReading } from '../../shared/climate/drying-form.ts';
import { type WaterOutlook, waterOutlook, waterReason } from '../../shared/climate/water-outlook.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, diary } from '../schema/tables.ts';
import { airReader, asReadings } from './queries-air.ts';
import { looksByCulture } from './queries-looks.ts';

/** When one culture will likely be dry; null where only a look can tell. */
export function waterOf(
  db: Db,
  { id, placeId }: { id: number; placeId: number | null },
  today: string,
): WaterOutlook | null {
  const looks = looksByCulture(db, today, [id]).get(id);
  return looks ? waterOutlook(looks, asReadings(airReader(db, today)(placeId)), today) : null;
}

export type WaterDue = { dueOn: string; reason: string };
type Kept = {
  today: string;
  lastEntry: number;
  dues: Map<number, WaterDue>;
  pending: number[];
  /** The air around each place, read once a day: one reading more changes a day's mean but little. */
  airAt: (placeId: number | null) => ClimateReading[];
};

function airOnce(db: Db, today: string): Kept['airAt'] {
  const daysAt = airReader(db, today);
  const read = new Map<number | null, ClimateReading[]>();
  return (placeId) => {
    const readings = read.get(placeId) ?? asReadings(daysAt(placeId));
    read.set(placeId, readings);
    return readings;
  };
}

const placesOf = (db: Db, ids: readonly number[]) =>
  new Map(
    db
      .select({ id: cultures.id, placeId: cultures.placeId })
      .from(cultures)
      .where(inArray(cultures.id, [...ids]))
      .all()
      .map(({ id, placeId }) => [id, placeId]),
  );

/** Held in memory, for it takes a millisecond or more a culture: a page that is read changes nothing. */
const kept = new WeakMap<Db, Kept>();

/** Nobody waits longer for a page; the rest is worked out in small slices while other pages are answered. */
const patienceMs = 150;
const sliceMs = 30;
const atATime = 25;

function workOut(db: Db, { today, dues, pending, airAt }: Kept, untilMs: number) {
  const start = Date.now();
  while (pending.length > 0 && Date.now() - start < untilMs) {
    const ids = pending.splice(0, atATime);
    const looks = looksByCulture(db, today, ids);
    const places = placesOf(db, ids);
    for (const id of ids) {
      const own = looks.get(id);
      const outlook = own ? waterOutlook(own, airAt(places.get(id) ?? null), today) : null;
      if (outlook) dues.set(id, { dueOn: outlook.dueOn, reason: waterReason(outlook, today) });
      else dues.delete(id);
    }
  }
}

/** The rest, slice by slice. Gives up when the day has passed, or the database is closed: nobody reads it then. */
function goOn(db: Db, work: Kept) {
  const timer = setTimeout(() => {
    if (kept.get(db) !== work) return;
    try {
      workOut(db, work, sliceMs);
    } catch {
      kept.delete(db); // asked for again, it begins anew and says what is wrong
      return;
    }
    if (work.pending.length > 0) goOn(db, work);
  }, sliceMs);
  timer.unref();
}

/** The cultures of which something was written since an entry. */
function writtenSince(db: Db, lastEntry: number): number[] {
  return db
    .selectDistinct({ id: diary.cultureId })
    .from(diary)
    .where(gt(diary.id, lastEntry))
    .all()
    .map(({ id }) => id);
}

const keptIds = (db: Db) =>
  db
    .select({ id: cultures.id })
    .from(cultures)
    .where(ne(cultures.status, 'retired'))
    .all()
    .map(({ id }) => id);

/**
 * The day water is due for each culture, and why, as far as their own checks and the air of their rooms tell. Worked
 * out once a day for all of them, and again for a culture as soon as something is written in its diary. With very many
 * cultures the first to ask on a day gets those that are worked out within a moment; the others follow.
 */
export function waterDueByCulture(db: Db, today: string): ReadonlyMap<number, WaterDue> {
  const lastEntry =
    db
      .select({ id: max(diary.id) })
      .from(diary)
      .get()?.id ?? 0;
  let work = kept.get(db);
  if (!work || work.today !== today || work.lastEntry > lastEntry) {
    work = { today, lastEntry, dues: new Map(), pending: keptIds(db), airAt: airOnce(db, today) };
    kept.set(db, work);
  } else if (work.lastEntry < lastEntry) {
    const changed = new Set(writtenSince(db, work.lastEntry));
    work.pending = [...changed, ...work.pending.filter((id) => !changed.has(id))];
    work.lastEntry = lastEntry;
  } else if (work.pending.length > 0) {
    return work.dues;
  }
  workOut(db, work, patienceMs);
  if (work.pending.length > 0) goOn(db, work);
  return work.dues;
}
