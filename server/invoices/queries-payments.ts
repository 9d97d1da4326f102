import { and, asc, eq, isNull } from 'drizzle-orm';
import { type Settlement, settle } from '../../shared/invoices/settlement.ts';
import type { Db } from '../plumbing/open-database.ts';
import { payments, paymentWays, people } from '../schema/tables.ts';

export type Payment = typeof payments.$inferSelect;

/** What was paid for an order and was not taken back. */
export function paymentsOf(db: Db, orderId: number) {
  return db
    .select({
      id: payments.id,
      kind: payments.kind,
      amountMinor: payments.amountMinor,
      way: paymentWays.name,
      paidOn: payments.paidOn,
      note: payments.note,
      by: people.name,
      madeAt: payments.madeAt,
    })
    .from(payments)
    .innerJoin(paymentWays, eq(paymentWays.id, payments.wayId))
    .leftJoin(people, eq(people.id, payments.madeBy))
    .where(and(eq(payments.orderId, orderId), isNull(payments.endedAt)))
    .orderBy(asc(payments.paidOn), asc(payments.id))
    .all();
}

export const settlementOf = (db: Db, orderId: number, owedMinor: number): Settlement =>
  settle(owedMinor, paymentsOf(db, orderId));

export const insertPayment = (tx: Db, values: Omit<Payment, 'id' | 'endedBy' | 'endedAt'>): number =>
  tx.insert(payments).values(values).returning({ id: payments.id }).get().id;

/** Takes one back; whether it still stood. */
export const endPayment = (tx: Db, orderId: number, id: number, by: { personId: string; now: number }) =>
  tx
    .update(payments)
    .set({ endedAt: by.now, endedBy: by.personId })
    .where(and(eq(payments.id, id), eq(payments.orderId, orderId), isNull(payments.endedAt)))
    .run().changes > 0;
