import { firstHabits, type Habits } from '../../shared/counts/habits.ts';
import { animalGroups } from '../../shared/species/columns.ts';
import { note } from '../plumbing/audit.ts';
import type { Db } from '../plumbing/open-database.ts';
import { counting, countingUsual } from '../schema/tables.ts';

export type ReadHabits = {
  habits: Habits;
  /** Nobody has said how long counting takes here: the minutes are the program's own. */
  minutesAreFirst: boolean;
};

/** How counts are made here: what was set, and what the program begins with where nothing was. */
export function readHabits(db: Db): ReadHabits {
  const row = db.select().from(counting).get();
  const usual = db.select().from(countingUsual).all();
  return {
    minutesAreFirst: row === undefined,
    habits: {
      minutes: row
        ? { visible: row.visibleMinutes, sample: row.sampleMinutes, full: row.fullMinutes }
        : firstHabits.minutes,
      sampleShare: row?.sampleShare ?? firstHabits.sampleShare,
      usual: {
        ...firstHabits.usual,
        ...Object.fromEntries(usual.map(({ animalGroup, method }) => [animalGroup, method])),
      },
    },
  };
}

/** Keeps how counts are made here, with who changed it. */
export function saveHabits(tx: Db, habits: Habits, by: { personId: string; at: number }) {
  const before = readHabits(tx).habits;
  const { minutes, sampleShare, usual } = habits;
  const row = {
    visibleMinutes: minutes.visible,
    sampleMinutes: minutes.sample,
    fullMinutes: minutes.full,
    sampleShare,
  };
  tx.insert(counting)
    .values({ ...row, id: 1 })
    .onConflictDoUpdate({ target: counting.id, set: row })
    .run();
  for (const animalGroup of animalGroups) {
    const method = usual[animalGroup];
    tx.insert(countingUsual)
      .values({ animalGroup, method })
      .onConflictDoUpdate({ target: countingUsual.animalGroup, set: { method } })
      .run();
  }
  note(tx, {
    ...by,
    action: 'changed counting',
    subject: 'counting',
    before: { ...before.minutes, sampleShare: before.sampleShare, ...before.usual },
    after: { ...minutes, sampleShare, ...usual },
  });
}
