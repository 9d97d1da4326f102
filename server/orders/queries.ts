import { and, asc, desc, eq, inArray, isNull, max, or, type SQL, sql } from 'drizzle-orm';
import type { OrderState } from '../../shared/orders/states.ts';
import { notFound } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { customers, orderHistory, orderLines, orders, people, species } from '../schema/tables.ts';

export type Order = typeof orders.$inferSelect;
export type Customer = typeof customers.$inferSelect;
export type LoadedOrder = { order: Order; customer: Customer };

function oneOrder(db: Db, which: SQL): LoadedOrder {
  const row = db
    .select({ order: orders, customer: customers })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(which)
    .get();
  if (!row) throw notFound('order');
  return row;
}

/** The order of that number with its customer, or "not found". */
export const loadOrder = (db: Db, number: number) => oneOrder(db, eq(orders.number, number));

/** The same by its row's id. */
export const orderById = (db: Db, id: number) => oneOrder(db, eq(orders.id, id));

/** The order alone, where one has that number. */
export const orderByNumber = (db: Db, number: number): Order | undefined =>
  db.select().from(orders).where(eq(orders.number, number)).get();

/** The lines of an order in their order, without those that were taken off it. */
export function linesOf(db: Db, orderId: number) {
  return db
    .select({
      id: orderLines.id,
      position: orderLines.position,
      speciesId: orderLines.speciesId,
      groups: orderLines.groups,
      groupAdults: orderLines.groupAdults,
      groupJuveniles: orderLines.groupJuveniles,
      groupExtras: orderLines.groupExtras,
      priceMinor: orderLines.priceMinor,
      separateLines: orderLines.separateLines,
      scientificName: species.scientificName,
      commonName: species.commonName,
      /** What the species' own group is made of now; the line keeps what it was when it was written. */
      ownAdults: species.groupAdults,
      ownJuveniles: species.groupJuveniles,
      ownExtras: species.groupExtras,
    })
    .from(orderLines)
    .innerJoin(species, eq(species.id, orderLines.speciesId))
    .where(and(eq(orderLines.orderId, orderId), eq(orderLines.withdrawn, false)))
    .orderBy(asc(orderLines.position), asc(orderLines.id))
    .all();
}
export type OrderLine = ReturnType<typeof linesOf>[number];

export function historyOf(db: Db, orderId: number) {
  return db
    .select({
      id: orderHistory.id,
      state: sql<OrderState>`${orderHistory.state}`,
      note: orderHistory.note,
      by: people.name,
      at: orderHistory.madeAt,
    })
    .from(orderHistory)
    .leftJoin(people, eq(people.id, orderHistory.madeBy))
    .where(eq(orderHistory.orderId, orderId))
    .orderBy(asc(orderHistory.id))
    .all();
}

/** Who does something, when: goes on every row that is written. */
export type By = { personId: string; now: number; today: string };

export function addHistory(tx: Db, orderId: number, state: OrderState, note: string, by: By) {
  tx.insert(orderHistory)
    .values({ orderId, state, note: note.slice(0, 4000), madeBy: by.personId, madeAt: by.now })
    .run();
}

/** A new draft with the next number; orders are never deleted, so the numbers have no gap. */
export function insertOrder(tx: Db, values: Omit<typeof orders.$inferInsert, 'number'>): Order {
  const last =
    tx
      .select({ number: max(orders.number) })
      .from(orders)
      .get()?.number ?? 0;
  return tx
    .insert(orders)
    .values({ ...values, number: last + 1 })
    .returning()
    .get();
}

export function changeOrder(
  tx: Db,
  orderId: number,
  values: Partial<
    Pick<
      Order,
      'customerId' | 'state' | 'postageMinor' | 'dispatchOn' | 'note' | 'sentOn' | 'tracking' | 'trackingLink'
    >
  >,
) {
  tx.update(orders)
    .set({ ...values, version: sql`${orders.version} + 1` })
    .where(eq(orders.id, orderId))
    .run();
}

/** Species that can stand on an order's line: those for sale, and those that stand there already. */
export function speciesToOrder(db: Db, alsoIds: readonly number[] = []) {
  const forSale = and(eq(species.sellable, true), isNull(species.retiredAt));
  return db
    .select({
      id: species.id,
      scientificName: species.scientificName,
      commonName: species.commonName,
      groupAdults: species.groupAdults,
      groupJuveniles: species.groupJuveniles,
      groupExtras: species.groupExtras,
      priceMinor: species.priceMinor,
    })
    .from(species)
    .where(alsoIds.length > 0 ? or(forSale, inArray(species.id, [...alsoIds])) : forSale)
    .orderBy(asc(species.scientificName))
    .all();
}
export type OrderableSpecies = ReturnType<typeof speciesToOrder>[number];

/** Drafts that a culture's animals could go into, the newest first. */
export function latestDrafts(db: Db, limit: number) {
  return db
    .select({ number: orders.number, customerName: customers.name })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(orders.state, 'draft'))
    .orderBy(desc(orders.number))
    .limit(limit)
    .all();
}
