import { inArray, ne } from 'drizzle-orm';
import type { DueSum } from '../../shared/checks/due.ts';
import type { ClimateReading } from '../../shared/climate/drying-form.ts';
import {
  type WaterExpected,
  type WaterOutlook,
  waterExpected,
  waterOutlook,
  waterReason,
} from '../../shared/climate/water-outlook.ts';
import { daysBetween } from '../../shared/days.ts';
import { type Mark, touchedSince } from '../cultures/queries-touched.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures } from '../schema/tables.ts';
import { airPrint, airReader, asReadings } from './queries-air.ts';
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

export type WaterDue = { dueOn: string; sum: DueSum; reason: string };
type Kept = {
  today: string;
  mark: Mark;
  /** What the air was; see `airPrint`. */
  air: string;
  dues: Map<number, WaterDue>;
  pending: number[];
  /** The air around each place up to yesterday, read once. */
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
const atATime = 6;

/** The days it takes from when it was wet, or none where it was found dry. */
function sumOf({ foundDryOn, wetOn, dueOn }: WaterExpected): DueSum {
  const from = foundDryOn ?? wetOn;
  return { since: foundDryOn === null ? 'wet' : 'found-dry', from, days: daysBetween(from, dueOn) };
}

function workOutThese(db: Db, { today, dues, airAt }: Kept, ids: readonly number[]) {
  const looks = looksByCulture(db, today, ids);
  const places = placesOf(db, ids);
  for (const id of ids) {
    const own = looks.get(id);
    const outlook = own ? waterExpected(own, airAt(places.get(id) ?? null), today) : null;
    if (outlook)
      dues.set(id, { dueOn: outlook.dueOn, sum: sumOf(outlook), reason: waterReason(outlook, today) });
    else dues.delete(id);
  }
}

function workOut(db: Db, work: Kept, untilMs: number) {
  const start = Date.now();
  while (work.pending.length > 0 && Date.now() - start < untilMs)
    workOutThese(db, work, work.pending.splice(0, atATime));
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

const keptIds = (db: Db) =>
  db
    .select({ id: cultures.id })
    .from(cultures)
    .where(ne(cultures.status, 'retired'))
    .all()
    .map(({ id }) => id);

function begin(db: Db, today: string, mark: Mark): Kept {
  const work: Kept = {
    today,
    mark,
    air: airPrint(db, today),
    dues: new Map(),
    pending: keptIds(db),
    airAt: airOnce(db, today),
  };
  kept.set(db, work);
  return work;
}

/**
 * The day water is due for each culture, and why, as far as their own checks and the air of their rooms tell. Worked
 * out once a day for all of them, and again for a culture as soon as anything of it is written. With very many cultures
 * the first to ask on a day gets those that are worked out within a moment; the others follow. What is due of a culture
 * stays the same object until it is worked out anew.
 */
export function waterDueByCulture(db: Db, today: string): ReadonlyMap<number, WaterDue> {
  const before = kept.get(db);
  const { mark, cultures: changed, air } = touchedSince(db, before?.mark ?? null);
  const goesOn = before?.today === today && changed !== 'all' && (!air || airPrint(db, today) === before.air);
  if (goesOn) {
    if (changed.size > 0) {
      workOutThese(db, before, [...changed]);
      before.pending = before.pending.filter((id) => !changed.has(id));
    }
    before.mark = mark;
    return before.dues;
  }
  const work = begin(db, today, mark);
  workOut(db, work, patienceMs);
  if (work.pending.length > 0) goOn(db, work);
  return work.dues;
}

/** Whether all that can be told of the water of a day is worked out by now. */
export const isWaterKnown = (db: Db): boolean => kept.get(db)?.pending.length === 0;
