import { gt, max } from 'drizzle-orm';
import { type WaterOutlook, waterOutlook, waterReason } from '../../shared/climate/water-outlook.ts';
import type { Db } from '../plumbing/open-database.ts';
import { diary } from '../schema/tables.ts';
import { looksByCulture } from './queries-looks.ts';

/** When one culture will likely be dry; null where only a look can tell. */
export function waterOf(db: Db, cultureId: number, today: string): WaterOutlook | null {
  const looks = looksByCulture(db, today, [cultureId]).get(cultureId);
  return looks ? waterOutlook(looks, [], today) : null;
}

export type WaterDue = { dueOn: string; reason: string };
type Kept = { today: string; lastEntry: number; dues: Map<number, WaterDue> };

/** Held in memory, for it takes a millisecond a culture: a page that is read changes nothing. */
const kept = new WeakMap<Db, Kept>();

function workOut(db: Db, today: string, into: Map<number, WaterDue>, onlyIds?: readonly number[]) {
  const looks = looksByCulture(db, today, onlyIds);
  for (const id of onlyIds ?? []) into.delete(id);
  for (const [cultureId, own] of looks) {
    const outlook = waterOutlook(own, [], today);
    if (outlook) into.set(cultureId, { dueOn: outlook.dueOn, reason: waterReason(outlook, today) });
  }
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

/**
 * The day water is due for each culture, and why, as far as their own checks tell. Worked out once a day for all of
 * them, and again for a culture as soon as something is written in its diary.
 */
export function waterDueByCulture(db: Db, today: string): ReadonlyMap<number, WaterDue> {
  const lastEntry =
    db
      .select({ id: max(diary.id) })
      .from(diary)
      .get()?.id ?? 0;
  const before = kept.get(db);
  if (!before || before.today !== today || before.lastEntry > lastEntry) {
    const dues = new Map<number, WaterDue>();
    workOut(db, today, dues);
    kept.set(db, { today, lastEntry, dues });
    return dues;
  }
  if (before.lastEntry < lastEntry) {
    const changed = writtenSince(db, before.lastEntry);
    // Many at once are an import: then all are worked out together.
    if (changed.length > 500) workOut(db, today, before.dues);
    else workOut(db, today, before.dues, changed);
    before.lastEntry = lastEntry;
  }
  return before.dues;
}
