import { and, asc, count, desc, eq, gte, inArray, lte, or, type SQL, sql } from 'drizzle-orm';
import type { OrderState } from '../../shared/orders/states.ts';
import { foundByWords } from '../customers/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { customers, orderLines, orders, species } from '../schema/tables.ts';

export type OrderSearch = {
  states: readonly OrderState[];
  /** Dispatch days, both ends included; null for no limit. */
  from: string | null;
  to: string | null;
  /** An order's number, or words of its customer. */
  words: string;
  limit: number;
  offset: number;
};

function numberOrWords(words: string): SQL | undefined {
  const number = /^#?\s*(\d{1,9})$/.exec(words.trim())?.[1];
  if (number === undefined) return foundByWords(words);
  const byNumber = eq(orders.number, Number(number));
  // As short a number as an order's would begin half of all postcodes.
  return number.length < 4 ? byNumber : or(byNumber, foundByWords(number));
}

const sought = (search: Omit<OrderSearch, 'limit' | 'offset'>) =>
  and(
    inArray(orders.state, [...search.states]),
    search.from === null ? undefined : gte(orders.dispatchOn, search.from),
    search.to === null ? undefined : lte(orders.dispatchOn, search.to),
    numberOrWords(search.words),
  );

// Named in full: a column of the outer query loses its table's name inside a subquery.
const ofOrder = sql`order_lines.order_id = orders.id AND order_lines.withdrawn = 0`;

const summary = {
  id: orders.id,
  number: orders.number,
  state: orders.state,
  madeAt: orders.madeAt,
  dispatchOn: orders.dispatchOn,
  currency: orders.currency,
  customerId: orders.customerId,
  customerName: customers.name,
  groups: sql<number>`(SELECT coalesce(sum(groups), 0) FROM order_lines WHERE ${ofOrder})`,
  /** Whole minor units; the database adds whole numbers exactly. */
  totalMinor: sql<number>`orders.postage_minor
    + (SELECT coalesce(sum(groups * price_minor), 0) FROM order_lines WHERE ${ofOrder})`,
};

const listed = (db: Db) =>
  db.select(summary).from(orders).innerJoin(customers, eq(customers.id, orders.customerId));

/** Orders by dispatch day, those without one last, then by number. */
export function listOrders(db: Db, search: OrderSearch) {
  return listed(db)
    .where(sought(search))
    .orderBy(sql`${orders.dispatchOn} IS NULL`, asc(orders.dispatchOn), asc(orders.number))
    .limit(search.limit)
    .offset(search.offset)
    .all();
}

export function countOrders(db: Db, search: Omit<OrderSearch, 'limit' | 'offset'>): number {
  const row = db
    .select({ n: count() })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(sought(search))
    .get();
  return row?.n ?? 0;
}

/** A customer's orders, the newest first. */
export function listOrdersOf(db: Db, customerId: number, page: { limit: number; offset: number }) {
  return listed(db)
    .where(eq(orders.customerId, customerId))
    .orderBy(desc(orders.number))
    .limit(page.limit)
    .offset(page.offset)
    .all();
}

export type OrderContent = { groups: number; scientificName: string; commonName: string };

/** What is in each of the orders, by the order's id. */
export function contentsOf(db: Db, orderIds: readonly number[]): Map<number, OrderContent[]> {
  const rows = db
    .select({
      orderId: orderLines.orderId,
      groups: orderLines.groups,
      scientificName: species.scientificName,
      commonName: species.commonName,
    })
    .from(orderLines)
    .innerJoin(species, eq(species.id, orderLines.speciesId))
    .where(and(inArray(orderLines.orderId, [...orderIds]), eq(orderLines.withdrawn, false)))
    .orderBy(orderLines.orderId, orderLines.position)
    .all();
  const contents = new Map<number, OrderContent[]>();
  for (const { orderId, ...content } of rows) {
    const known = contents.get(orderId);
    if (known) known.push(content);
    else contents.set(orderId, [content]);
  }
  return contents;
}

/** What the total of an order is added up from. */
export function partsOfTotal(db: Db, orderId: number) {
  const lines = db
    .select({ groups: orderLines.groups, priceMinor: orderLines.priceMinor })
    .from(orderLines)
    .where(and(eq(orderLines.orderId, orderId), eq(orderLines.withdrawn, false)))
    .orderBy(orderLines.position)
    .all();
  const order = db
    .select({ postageMinor: orders.postageMinor })
    .from(orders)
    .where(eq(orders.id, orderId))
    .get();
  return { lines, postageMinor: order?.postageMinor ?? 0 };
}

/** How many orders are in each state. */
export function countByState(db: Db): Map<OrderState, number> {
  const rows = db.select({ state: orders.state, n: count() }).from(orders).groupBy(orders.state).all();
  return new Map(rows.map((row) => [row.state, row.n]));
}

/** The dispatch days of confirmed orders, with how many leave on each. */
export function daysToPack(db: Db): { day: string; orders: number }[] {
  return db
    .select({ day: sql<string>`${orders.dispatchOn}`, orders: count() })
    .from(orders)
    .where(and(eq(orders.state, 'confirmed'), sql`${orders.dispatchOn} IS NOT NULL`))
    .groupBy(orders.dispatchOn)
    .orderBy(asc(orders.dispatchOn))
    .limit(14)
    .all();
}

/** The dispatch days of drafts, with how many would leave on each. */
export function daysOfDrafts(db: Db): { day: string; orders: number }[] {
  return db
    .select({ day: sql<string>`${orders.dispatchOn}`, orders: count() })
    .from(orders)
    .where(and(eq(orders.state, 'draft'), sql`${orders.dispatchOn} IS NOT NULL`))
    .groupBy(orders.dispatchOn)
    .orderBy(asc(orders.dispatchOn))
    .limit(14)
    .all();
}

/** Numbers of the drafts that are to leave on a day, those written down first in front. */
export function draftsOn(db: Db, day: string, limit: number): number[] {
  return db
    .select({ number: orders.number })
    .from(orders)
    .where(and(eq(orders.state, 'draft'), eq(orders.dispatchOn, day)))
    .orderBy(asc(orders.number))
    .limit(limit)
    .all()
    .map((order) => order.number);
}

/** The next day for which a draft is written down. */
export function nextDayWithDrafts(db: Db, from: string): string | null {
  const next = db
    .select({ day: orders.dispatchOn })
    .from(orders)
    .where(and(eq(orders.state, 'draft'), gte(orders.dispatchOn, from)))
    .orderBy(asc(orders.dispatchOn))
    .limit(1)
    .get();
  return next?.day ?? null;
}

/** Numbers of the confirmed orders that leave on a day. */
export function confirmedOn(db: Db, day: string): number[] {
  return db
    .select({ number: orders.number })
    .from(orders)
    .where(and(eq(orders.state, 'confirmed'), eq(orders.dispatchOn, day)))
    .orderBy(asc(orders.number))
    .all()
    .map((order) => order.number);
}
