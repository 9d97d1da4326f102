import { and, eq, gte, inArray, isNotNull, or, sql } from 'drizzle-orm';
import type { Look } from '../../shared/climate/cycles.ts';
import { addDays } from '../../shared/days.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, standingDiary } from '../schema/tables.ts';

/** An enclosure dries as it did in the last months; lids, substrate and seasons change before that. */
const rememberedDays = 240;

/** The looks at the surface and the water of the cultures that are kept, by culture, in the order of their days. */
export function looksByCulture(db: Db, today: string, onlyIds?: readonly number[]): Map<number, Look[]> {
  const { cultureId, onDay, kind, surface, waterMl } = standingDiary;
  const rows = db
    .select({ cultureId, onDay, surface, waterMl })
    .from(standingDiary)
    .innerJoin(cultures, eq(cultures.id, cultureId))
    .where(
      and(
        sql`${cultures.status} <> 'retired'`,
        onlyIds && inArray(cultures.id, [...onlyIds]),
        gte(onDay, addDays(today, -rememberedDays)),
        sql`${onDay} <= ${today}`,
        or(and(eq(kind, 'check'), isNotNull(surface)), eq(kind, 'water')),
      ),
    )
    .orderBy(cultureId, onDay, sql`coalesce(${standingDiary.rootId}, ${standingDiary.id})`)
    .all();
  const looks = new Map<number, Look[]>();
  for (const row of rows) {
    const look = { date: row.onDay, surface: row.surface, wateredMl: row.waterMl ?? 0 };
    const own = looks.get(row.cultureId);
    if (own) own.push(look);
    else looks.set(row.cultureId, [look]);
  }
  return looks;
}
