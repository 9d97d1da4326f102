import { and, desc, eq, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { standingDiary } from '../schema/tables.ts';

/** How a culture was counted last, or undefined when it never was. */
export function lastMethod(db: Db, cultureId: number): string | undefined {
  return db
    .select({ method: sql<string>`json_extract(${standingDiary.countInput}, '$.method')` })
    .from(standingDiary)
    .where(and(eq(standingDiary.cultureId, cultureId), eq(standingDiary.kind, 'count')))
    .orderBy(desc(standingDiary.onDay), desc(standingDiary.id))
    .limit(1)
    .get()?.method;
}
