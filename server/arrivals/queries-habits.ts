import { type ArrivalHabits, firstArrivalHabits } from '../../shared/arrivals/habits.ts';
import type { Db } from '../plumbing/open-database.ts';
import { arrivalHabits } from '../schema/tables.ts';

export function readHabits(db: Db): ArrivalHabits {
  const row = db.select().from(arrivalHabits).get();
  if (!row) return firstArrivalHabits;
  const { id: _one, ...habits } = row;
  return habits;
}

export function saveHabits(tx: Db, habits: ArrivalHabits) {
  tx.insert(arrivalHabits)
    .values({ id: 1, ...habits })
    .onConflictDoUpdate({ target: arrivalHabits.id, set: habits })
    .run();
}
