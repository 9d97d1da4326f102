import { eq, sql } from 'drizzle-orm';
import type { DiaryLine, Entry } from '../cultures/queries-diary.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultureParents, cultures } from '../schema/tables.ts';

/** What is known of a culture beyond the split that founded it, in words; empty where nothing is. */
function knownSince(db: Db, split: Pick<Entry, 'id' | 'rootId' | 'madeAt' | 'otherCultureId'>): string[] {
  const child = split.otherCultureId ?? 0;
  const root = split.rootId ?? split.id;
  const asked: [string, ReturnType<typeof sql>][] = [
    [
      'entries in its diary',
      // What was written along with the split goes with it.
      sql`SELECT 1 FROM standing_diary WHERE culture_id = ${child} AND made_at <> ${split.madeAt}`,
    ],
    ['animals promised to orders', sql`SELECT 1 FROM allocations WHERE culture_id = ${child}`],
    ['cultures of its own', sql`SELECT 1 FROM culture_parents WHERE parent_id = ${child}`],
    [
      'entries in the diaries of others',
      sql`SELECT 1 FROM standing_diary WHERE other_culture_id = ${child} AND coalesce(root_id, id) <> ${root}`,
    ],
    [
      'contacts',
      sql`SELECT 1 FROM standing_contacts WHERE (from_id = ${child} OR to_id = ${child})
        AND diary_id IS NOT ${root}`,
    ],
    ['photos', sql`SELECT 1 FROM count_photos WHERE culture_id = ${child}`],
  ];
  return asked.filter(([, query]) => db.get(sql`${query} LIMIT 1`) !== undefined).map(([words]) => words);
}

/** Why a split cannot be taken back, in a sentence; null where it can. */
export function whyItStays(db: Db, entry: DiaryLine): string | null {
  if (entry.kind !== 'split') return 'This entry is no split.';
  if (entry.replacedBy !== null || entry.withdrawn) return 'This split has been taken back already.';
  if (entry.importId !== null) return 'This split came with an import: it goes when the import is undone.';
  const known = knownSince(db, entry);
  if (known.length === 0) return null;
  return `${entry.otherCode} has ${known.join(', ')} since. What was written can be taken out first; else count both cultures again.`;
}

/** The culture never was: it has no parents any more, and nothing is written of it from here on. */
export function markTakenBack(tx: Db, cultureId: number, now: number) {
  tx.update(cultures).set({ takenBackAt: now }).where(eq(cultures.id, cultureId)).run();
  tx.delete(cultureParents).where(eq(cultureParents.cultureId, cultureId)).run();
}
