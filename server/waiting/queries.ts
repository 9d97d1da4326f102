import { and, asc, eq, gt, isNull, ne, or } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { people, species, standingDiary } from '../schema/tables.ts';

/** What to say of a species whenever somebody handles it, by its name; only of those that have something to say. */
export function cautionsBySpecies(db: Db): Map<string, string> {
  const rows = db
    .select({ name: species.scientificName, cautions: species.cautions })
    .from(species)
    .where(ne(species.cautions, ''))
    .all();
  return new Map(rows.map(({ name, cautions }) => [name, cautions]));
}

/** As many as can be read side by side. */
const most = 30;

/** Which entries others have written for a culture after an instant, with who wrote them and when. */
export function writtenByOthers(db: Db, cultureId: number, personId: string, since: number) {
  return db
    .select({ id: standingDiary.id, madeAt: standingDiary.madeAt, by: people.name })
    .from(standingDiary)
    .leftJoin(people, eq(people.id, standingDiary.madeBy))
    .where(
      and(
        eq(standingDiary.cultureId, cultureId),
        gt(standingDiary.madeAt, since),
        or(isNull(standingDiary.madeBy), ne(standingDiary.madeBy, personId)),
      ),
    )
    .orderBy(asc(standingDiary.id))
    .limit(most)
    .all();
}
