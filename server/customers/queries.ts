import { and, count, desc, eq, isNotNull, isNull, sql } from 'drizzle-orm';
import type { CustomerForm } from '../../shared/customers/form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { wordsToMatch } from '../plumbing/search-words.ts';
import { customers, orders } from '../schema/tables.ts';

export type Customer = typeof customers.$inferSelect;

/** Customers whose words begin as typed; usable on any query that has the customers table in it. */
export function foundByWords(typed: string) {
  const match = wordsToMatch(typed);
  if (match === null) return typed.trim() === '' ? undefined : sql`0`;
  return sql`${customers.id} IN (SELECT rowid FROM customer_words WHERE customer_words MATCH ${match})`;
}

export type CustomerSearch = { words: string; retired: boolean; limit: number; offset: number };

const sought = (search: Pick<CustomerSearch, 'words' | 'retired'>) =>
  and(
    foundByWords(search.words),
    search.retired ? isNotNull(customers.retiredAt) : isNull(customers.retiredAt),
  );

/** Customers by name, with how many of their orders are still open and the day of the last one. */
export function listCustomers(db: Db, search: CustomerSearch) {
  // Named in full: a column of the outer query loses its table's name inside a subquery.
  const own = sql`orders.customer_id = customers.id`;
  return db
    .select({
      id: customers.id,
      name: customers.name,
      email: customers.email,
      postcode: customers.postcode,
      city: customers.city,
      country: customers.country,
      openOrders: sql<number>`(SELECT count(*) FROM orders WHERE ${own} AND state IN ('draft', 'confirmed', 'packed'))`,
      lastOrderAt: sql<number | null>`(SELECT max(made_at) FROM orders WHERE ${own})`,
    })
    .from(customers)
    .where(sought(search))
    .orderBy(sql`${customers.name} COLLATE NOCASE`, customers.id)
    .limit(search.limit)
    .offset(search.offset)
    .all();
}

/** Customers who ordered last, and the newest ones: whom the next order is likely for. */
export function latestCustomers(db: Db, limit: number) {
  const { id, name, postcode, city, country } = customers;
  return db
    .select({ id, name, postcode, city, country })
    .from(customers)
    .where(isNull(customers.retiredAt))
    .orderBy(
      desc(
        sql`max(${customers.madeAt}, coalesce((SELECT max(made_at) FROM orders WHERE customer_id = customers.id), 0))`,
      ),
      desc(customers.id),
    )
    .limit(limit)
    .all();
}

export function countCustomers(db: Db, search: Pick<CustomerSearch, 'words' | 'retired'>): number {
  return db.select({ n: count() }).from(customers).where(sought(search)).get()?.n ?? 0;
}

export function readCustomer(db: Db, id: number): Customer | undefined {
  return db.select().from(customers).where(eq(customers.id, id)).get();
}

type Written = Omit<CustomerForm, 'retired' | 'version'> & { retiredAt: number | null };

/** The columns that a form fills; a customer who was already put away keeps the day that was done. */
export function columnsOf(form: CustomerForm, now: number, was: number | null = null): Written {
  const { retired, version: _version, ...columns } = form;
  return { ...columns, retiredAt: retired ? (was ?? now) : null };
}

export function insertCustomer(tx: Db, values: Written, by: { madeBy: string; madeAt: number }): number {
  return tx
    .insert(customers)
    .values({ ...values, ...by })
    .returning({ id: customers.id })
    .get().id;
}

export function updateCustomer(tx: Db, id: number, values: Written) {
  tx.update(customers)
    .set({ ...values, version: sql`${customers.version} + 1` })
    .where(eq(customers.id, id))
    .run();
}

export const subjectOf = (id: number) => `customer ${id}`;

/** How many orders a customer has in all. */
export function countOrdersOf(db: Db, id: number): number {
  return db.select({ n: count() }).from(orders).where(eq(orders.customerId, id)).get()?.n ?? 0;
}
