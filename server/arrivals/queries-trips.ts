import { desc, eq } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { trips } from '../schema/tables.ts';

export type Trip = typeof trips.$inferSelect;
/** What was worked out for a parcel's way: inside temperatures, hours outside what is safe, hours in all. */
export type TripFacts = Omit<Trip, 'id' | 'orderId' | 'madeBy' | 'madeAt'>;

/** Keeps what was worked out for an order's trip; the latest of an order counts, those before stay. */
export function keepTrip(
  tx: Db,
  orderId: number,
  facts: TripFacts,
  by: { personId: string | null; now: number },
): number {
  return tx
    .insert(trips)
    .values({ ...facts, orderId, madeBy: by.personId, madeAt: by.now })
    .returning({ id: trips.id })
    .get().id;
}

export const tripOf = (db: Db, orderId: number): Trip | undefined =>
  db.select().from(trips).where(eq(trips.orderId, orderId)).orderBy(desc(trips.id)).limit(1).get();
