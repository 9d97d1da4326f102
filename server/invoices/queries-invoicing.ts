import { and, asc, desc, eq, gte, isNull, lte, or, sql } from 'drizzle-orm';
import { firstInvoicing } from '../../shared/invoices/first-invoicing.ts';
import type { Db } from '../plumbing/open-database.ts';
import { invoicing, paymentWays, taxRates } from '../schema/tables.ts';

export type Invoicing = Omit<typeof invoicing.$inferSelect, 'id'>;
export type TaxRate = typeof taxRates.$inferSelect;
export type Way = typeof paymentWays.$inferSelect;

export function readInvoicing(db: Db): Invoicing {
  const row = db.select().from(invoicing).get();
  if (!row) return firstInvoicing;
  const { id: _one, ...values } = row;
  return values;
}

export function saveInvoicing(tx: Db, values: Invoicing) {
  tx.insert(invoicing)
    .values({ id: 1, ...values })
    .onConflictDoUpdate({ target: invoicing.id, set: values })
    .run();
}

/** Every tax that was not put away, the latest first. */
export const listRates = (db: Db): TaxRate[] =>
  db
    .select()
    .from(taxRates)
    .where(isNull(taxRates.retiredAt))
    .orderBy(asc(taxRates.name), desc(taxRates.fromOn), asc(taxRates.id))
    .all();

export const readRateById = (db: Db, id: number): TaxRate | undefined =>
  db.select().from(taxRates).where(eq(taxRates.id, id)).get();

/** The taxes that are in force on a day. */
export const ratesOn = (db: Db, day: string): TaxRate[] =>
  db
    .select()
    .from(taxRates)
    .where(
      and(
        isNull(taxRates.retiredAt),
        lte(taxRates.fromOn, day),
        or(isNull(taxRates.untilOn), gte(taxRates.untilOn, day)),
      ),
    )
    .orderBy(asc(taxRates.id))
    .all();

/** Whether prices of animals hold the taxes of a day, or they come on top; null where there is none, or some of each. */
export function taxesOn(db: Db, day: string): TaxRate['mode'] | null {
  const rates = readInvoicing(db).exempt ? [] : ratesOn(db, day).filter(({ onGoods }) => onGoods);
  const [first] = rates;
  return first && rates.every(({ mode }) => mode === first.mode) ? first.mode : null;
}

export type RateValues = Omit<TaxRate, 'id' | 'madeAt' | 'retiredAt'>;

export const insertRate = (tx: Db, values: RateValues, madeAt: number): number =>
  tx
    .insert(taxRates)
    .values({ ...values, madeAt })
    .returning({ id: taxRates.id })
    .get().id;

export const updateRate = (tx: Db, id: number, values: Partial<Omit<TaxRate, 'id' | 'madeAt'>>) =>
  tx.update(taxRates).set(values).where(eq(taxRates.id, id)).run();

/** Every way of paying, those that are offered first. */
export const listWays = (db: Db): Way[] =>
  db.select().from(paymentWays).orderBy(sql`${paymentWays.retiredAt} IS NOT NULL`, asc(paymentWays.id)).all();

export const readWay = (db: Db, id: number): Way | undefined =>
  db.select().from(paymentWays).where(eq(paymentWays.id, id)).get();

export const wayNamed = (db: Db, name: string): Way | undefined =>
  db.select().from(paymentWays).where(eq(paymentWays.name, name)).get();

export const insertWay = (tx: Db, name: string): number =>
  tx.insert(paymentWays).values({ name }).returning({ id: paymentWays.id }).get().id;

export const setWayRetired = (tx: Db, id: number, at: number | null) =>
  tx.update(paymentWays).set({ retiredAt: at }).where(eq(paymentWays.id, id)).run();
