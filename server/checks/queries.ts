import { and, eq, inArray, ne, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates, cultures, places, species, standingDiary } from '../schema/tables.ts';

/** Every culture that is kept, in walking order, with what decides whether it is due. */
export function keptCultures(db: Db, onlyCode?: string) {
  return (
    db
      .select({
        id: cultures.id,
        code: cultures.code,
        status: cultures.status,
        foundedOn: cultures.foundedOn,
        scientificName: species.scientificName,
        commonName: species.commonName,
        everyDays: species.checkEveryDays,
        place: places.fullName,
        position: sql<string | null>`CASE WHEN ${places.kind} = 'position' THEN ${places.name} END`,
        shelf: sql<
          string | null
        >`CASE WHEN ${places.kind} = 'position' THEN (SELECT above.full_name FROM places above WHERE above.id = ${places.parentId}) ELSE ${places.fullName} END`,
        lastCheckOn: cultureEstimates.lastCheckOn,
        health: sql<string>`coalesce(${cultureEstimates.health}, 'well')`,
      })
      .from(cultures)
      .innerJoin(species, eq(species.id, cultures.speciesId))
      .leftJoin(places, eq(places.id, cultures.placeId))
      .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
      .where(
        and(ne(cultures.status, 'retired'), onlyCode === undefined ? undefined : eq(cultures.code, onlyCode)),
      )
      // What stands in quarantine is handled last, so that nothing travels from it on hands and tools.
      .orderBy(
        sql`${cultures.status} = 'quarantine'`,
        sql`coalesce(${places.shelfOrder}, '~')`,
        cultures.code,
      )
      .all()
  );
}
export type KeptCulture = ReturnType<typeof keptCultures>[number];

/** Which cultures were looked at on a day, and the entry of it that can be taken back. */
export function checkedOn(db: Db, onDay: string): Map<number, number> {
  const rows = db
    .select({ cultureId: standingDiary.cultureId, id: sql<number>`max(${standingDiary.id})` })
    .from(standingDiary)
    .where(and(eq(standingDiary.onDay, onDay), eq(standingDiary.kind, 'check')))
    .groupBy(standingDiary.cultureId)
    .all();
  return new Map(rows.map((r) => [r.cultureId, r.id]));
}

/** What a helper wants to know before looking in: the last check with something to say, and the last water. */
export function lastSeen(db: Db, cultureId: number) {
  return db
    .select()
    .from(standingDiary)
    .where(
      and(
        eq(standingDiary.cultureId, cultureId),
        or(
          inArray(standingDiary.kind, ['check', 'water', 'feed', 'fruit-in', 'fruit-out', 'mites', 'mould']),
        ),
      ),
    )
    .orderBy(sql`${standingDiary.onDay} DESC, ${standingDiary.id} DESC`)
    .limit(5)
    .all();
}
