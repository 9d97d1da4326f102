import { and, eq, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { standingDiary } from '../schema/tables.ts';
import { type Entry, standingEntry } from './queries-diary.ts';

const otherHalf = { harvest: 'addition', addition: 'harvest' } as const;

/**
 * Animals that went from one culture to another stand in both diaries. The entry in the other diary that belongs to
 * this one, so that what is corrected or taken out here is there too; undefined for entries that stand alone.
 */
export function partnerOf(db: Db, entry: Entry): Entry | undefined {
  if ((entry.kind !== 'harvest' && entry.kind !== 'addition') || entry.otherCultureId === null)
    return undefined;
  return db
    .select()
    .from(standingDiary)
    .where(
      and(
        eq(standingDiary.cultureId, entry.otherCultureId),
        eq(standingDiary.otherCultureId, entry.cultureId),
        eq(standingDiary.kind, otherHalf[entry.kind]),
        eq(standingDiary.onDay, entry.onDay),
        eq(standingDiary.animals, entry.animals ?? 0),
      ),
    )
    .orderBy(sql`abs(${standingDiary.madeAt} - ${entry.madeAt})`, standingDiary.id)
    .limit(1)
    .get();
}

/** An entry and those that were written in one go with it, after it: a check with the water and the food given. */
export function writtenWith(db: Db, entry: Entry): Entry[] {
  const all = [entry];
  for (;;) {
    const next = standingEntry(db, entry.id + all.length);
    const together =
      next &&
      next.cultureId === entry.cultureId &&
      next.madeAt === entry.madeAt &&
      next.madeBy === entry.madeBy;
    if (!together) return all;
    all.push(next);
  }
}
