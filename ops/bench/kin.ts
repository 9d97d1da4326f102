import { eq } from 'drizzle-orm';
import type { Db } from '../../server/plumbing/open-database.ts';
import {
  cultureEstimates,
  cultureParents,
  cultures,
  diary,
  estimatePoints,
} from '../../server/schema/tables.ts';
import { addDays, daysBetween } from '../../shared/days.ts';
import { makeChance } from '../demo/chance.ts';
import { noonOf } from '../demo/write-story.ts';

/**
 * So many more cultures of one species, descended from its first by splits since that was founded, every tenth mixed into
 * once, each with what would be believed of it put in by hand. Answers their codes.
 */
export function writeKin(db: Db, howMany: number, today: string): { speciesId: number; codes: string[] } {
  const chance = makeChance(13);
  const root = db.select().from(cultures).orderBy(cultures.id).limit(1).get()!;
  const estimate = db.select().from(cultureEstimates).where(eq(cultureEstimates.cultureId, root.id)).get()!;
  const kin = [{ id: root.id, code: root.code }];
  db.transaction((tx) => {
    for (let i = 1; i < howMany; i += 1) {
      const onDay = addDays(root.foundedOn, Math.floor((i / howMany) * daysBetween(root.foundedOn, today)));
      const [parent, other] = [chance.pick(kin), chance.pick(kin)];
      const code = `KIN-${String(i).padStart(4, '0')}`;
      const madeAt = noonOf(onDay);
      const { id: _id, ...like } = root;
      const { id } = tx
        .insert(cultures)
        .values({ ...like, code, foundedOn: onDay, origin: 'split', madeAt })
        .returning({ id: cultures.id })
        .get();
      tx.insert(cultureParents).values({ cultureId: id, parentId: parent.id, animals: 12 }).run();
      tx.insert(cultureEstimates)
        .values({ ...estimate, cultureId: id })
        .run();
      const kind = i % 10 === 0 && other.id !== id ? 'addition' : 'count';
      const entry = { cultureId: id, onDay: today, note: '', withdrawn: false, via: 'demo', madeAt } as const;
      const what =
        kind === 'addition'
          ? { kind, animals: 8, otherCultureId: other.id }
          : { kind, countInput: JSON.stringify({ method: 'full', counted: 60 }) };
      const written = tx
        .insert(diary)
        .values({ ...entry, ...what } as typeof diary.$inferInsert)
        .returning({ id: diary.id })
        .get();
      const bands = {
        beforeLower: 40,
        beforeMedian: 50,
        beforeUpper: 60,
        afterLower: 50,
        afterMedian: 58,
        afterUpper: 70,
      };
      tx.insert(estimatePoints)
        .values({ ...bands, cultureId: id, onDay: today, position: written.id })
        .run();
      kin.push({ id, code });
    }
  });
  return { speciesId: root.speciesId, codes: kin.map(({ code }) => code) };
}
