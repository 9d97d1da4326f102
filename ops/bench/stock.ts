import type { Db } from '../../server/plumbing/open-database.ts';
import { cultures, diary, enclosures, species } from '../../server/schema/tables.ts';
import { codeLetters } from '../../shared/cultures/next-code.ts';
import { addDays } from '../../shared/days.ts';
import { makeChance } from '../demo/chance.ts';
import { check, count, found, growTo } from '../demo/colony.ts';
import { cast } from '../demo/story.ts';
import { noonOf } from '../demo/write-story.ts';

/**
 * So many cultures with a year behind them: a check every week, a count of what shows at each third of them, and now
 * and then some sold. Written straight into the tables; nothing is worked out yet.
 */
export function writeStock(db: Db, howMany: number, today: string) {
  const chance = makeChance(7);
  const kinds = cast.map((plan) => ({
    row: db
      .select()
      .from(species)
      .all()
      .find((s) => s.scientificName === plan.scientificName)!,
    enclosure: db
      .select()
      .from(enclosures)
      .all()
      .find((e) => e.name === plan.enclosure)!,
  }));
  db.transaction((tx) => {
    for (let i = 0; i < howMany; i += 1) {
      const { row, enclosure } = kinds[i % kinds.length]!;
      const foundedOn = addDays(today, -364);
      const code = `${codeLetters(row.scientificName)}-${String(i + 1).padStart(4, '0')}`;
      const colony = found(chance, row, enclosure, {
        code,
        foundedOn,
        animals: 30,
        parent: null,
        lineIndex: 0,
      });
      for (let week = 1; week <= 51; week += 1) {
        const day = addDays(foundedOn, week * 7);
        growTo(chance, colony, day);
        check(chance, colony, day);
        if (week % 3 === 0) count(chance, colony, day);
      }
      const madeAt = noonOf(foundedOn);
      const { id } = tx
        .insert(cultures)
        .values({
          code,
          speciesId: row.id,
          morph: '',
          enclosureId: enclosure.id,
          foundedOn,
          origin: 'bought',
          foundingAnimals: 30,
          foundingSdLog: 0.05,
          status: 'active',
          note: '',
          madeAt,
        })
        .returning({ id: cultures.id })
        .get();
      for (const { by: _by, otherCode: _other, ...entry } of colony.entries) {
        tx.insert(diary)
          .values({ ...entry, cultureId: id, note: '', withdrawn: false, via: 'demo', madeAt })
          .run();
      }
    }
  });
}
