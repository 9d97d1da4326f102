import { and, asc, eq, isNull } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import type { Db } from '../plumbing/open-database.ts';
import { amends, orders, people } from '../schema/tables.ts';

export type Amends = typeof amends.$inferSelect;

/** What was done about an order's losses and was not taken back. */
export function amendsOf(db: Db, orderId: number) {
  const again = alias(orders, 'again');
  return db
    .select({
      id: amends.id,
      kind: amends.kind,
      amountMinor: amends.amountMinor,
      newOrder: again.number,
      reason: amends.reason,
      by: people.name,
      madeAt: amends.madeAt,
    })
    .from(amends)
    .leftJoin(again, eq(again.id, amends.newOrderId))
    .leftJoin(people, eq(people.id, amends.madeBy))
    .where(and(eq(amends.orderId, orderId), isNull(amends.endedAt)))
    .orderBy(asc(amends.id))
    .all();
}

export const insertAmends = (
  tx: Db,
  values: Pick<Amends, 'orderId' | 'kind' | 'amountMinor' | 'newOrderId' | 'reason' | 'madeBy' | 'madeAt'>,
): number => tx.insert(amends).values(values).returning({ id: amends.id }).get().id;

/** Takes one back; whether it still stood. */
export const endAmends = (tx: Db, orderId: number, id: number, by: { personId: string; now: number }) =>
  tx
    .update(amends)
    .set({ endedAt: by.now, endedBy: by.personId })
    .where(and(eq(amends.id, id), eq(amends.orderId, orderId), isNull(amends.endedAt)))
    .run().changes > 0;
