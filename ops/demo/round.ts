import { and, asc, desc, eq, inArray, isNotNull } from 'drizzle-orm';
import { addPutOff } from '../../server/checks/queries-put-offs.ts';
import { readHabits } from '../../server/counts/queries-habits.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { cultureEstimates, cultures, species } from '../../server/schema/tables.ts';
import { gainNow } from '../../server/surplus/queries-gains.ts';
import { askCounts } from '../../server/surplus/queries-round-counts.ts';
import { addDays } from '../../shared/days.ts';
import { noonOf } from './write-story.ts';

/** Cultures that are sold from and were not counted for longest. */
const longUncounted = (tx: Db) =>
  tx
    .select({ id: cultures.id, animalGroup: species.animalGroup })
    .from(cultureEstimates)
    .innerJoin(cultures, eq(cultures.id, cultureEstimates.cultureId))
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .where(
      and(
        eq(species.sellable, true),
        eq(cultures.status, 'active'),
        eq(cultureEstimates.health, 'well'),
        isNotNull(cultureEstimates.lastCountOn),
      ),
    )
    .orderBy(asc(cultureEstimates.lastCountOn), asc(cultures.id))
    .limit(12)
    .all();

/** Counts that are worth their minutes: two handed over for today, one from yesterday that nobody made. */
function handCounts(tx: Db, today: string, madeBy: string) {
  const { habits } = readHabits(tx);
  const worth = longUncounted(tx)
    .map(({ id, animalGroup }) => {
      const method = habits.usual[animalGroup];
      return {
        cultureId: id,
        method,
        minutes: habits.minutes[method],
        gain: gainNow(tx, id, habits, today) ?? 0,
      };
    })
    .sort((a, b) => b.gain / b.minutes - a.gain / a.minutes || a.cultureId - b.cultureId);
  const yesterday = addDays(today, -1);
  askCounts(tx, worth.slice(0, 2), { onDay: today, madeBy, madeAt: noonOf(yesterday) });
  askCounts(tx, worth.slice(2, 3), { onDay: yesterday, madeBy, madeAt: noonOf(yesterday) });
}

/** Work that waits, with why. */
function putSomeOff(tx: Db, today: string, madeBy: string) {
  const reasons = [
    ['BD', 'check', 'They were moved yesterday; left in peace until the weekend.', 2],
    ['CC', 'feed', 'Plenty of springtails left in there.', 3],
  ] as const;
  for (const [letters, what, reason, days] of reasons) {
    const found = tx
      .select({ id: cultures.id })
      .from(cultures)
      .where(inArray(cultures.code, [`${letters}-001`, `${letters}-002`]))
      .orderBy(desc(cultures.code))
      .get();
    if (!found) continue;
    const untilOn = addDays(today, days);
    addPutOff(tx, { cultureId: found.id, what, untilOn, reason, madeBy, madeAt: noonOf(addDays(today, -1)) });
  }
}

/** What people left for the round of today. */
export function writeRound(tx: Db, today: string, { owner, helper }: { owner: string; helper: string }) {
  handCounts(tx, today, owner);
  putSomeOff(tx, today, helper);
}
