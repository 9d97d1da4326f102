import type { Db } from '../../server/plumbing/open-database.ts';
import { cultures, diary } from '../../server/schema/tables.ts';
import { writeContact } from '../../server/traces/queries-contacts.ts';
import { addDays } from '../../shared/days.ts';
import { makeChance } from '../demo/chance.ts';
import { noonOf } from '../demo/write-story.ts';

/** So many contacts between the cultures by chance, over a year: meals from feeder cultures, tools, old substrate. */
export function writeContacts(db: Db, howMany: number, today: string) {
  const chance = makeChance(11);
  const ids = db.select({ id: cultures.id }).from(cultures).orderBy(cultures.id).all();
  db.transaction((tx) => {
    for (let i = 0; i < howMany; i += 1) {
      const [from, to] = [chance.pick(ids).id, chance.pick(ids).id];
      const onDay = addDays(today, -chance.whole(0, 360));
      const by = { madeBy: null, madeAt: noonOf(onDay) };
      if (from === to) continue;
      if (chance.happens(0.5)) {
        const meal = {
          kind: 'feed',
          food: 'flies',
          otherCultureId: from,
          note: '',
          withdrawn: false,
        } as const;
        tx.insert(diary)
          .values({ ...by, ...meal, cultureId: to, onDay, via: 'demo' })
          .run();
      } else {
        const kind = chance.pick(['shared tool', 'seeding', 'feeders'] as const);
        writeContact(tx, { kind, fromId: from, toId: to, onDay }, by);
      }
    }
  });
}
