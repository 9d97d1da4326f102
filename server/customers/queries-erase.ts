import { and, eq, exists, inArray, isNull, lt, ne, sql } from 'drizzle-orm';
import { keptUntil } from '../../shared/invoices/settlement.ts';
import { readInvoicing } from '../invoices/queries-invoicing.ts';
import type { Db } from '../plumbing/open-database.ts';
import * as t from '../schema/tables.ts';
import { type Belongings, belongingsOf } from './queries-belongings.ts';
import { inRecordOf } from './queries-personal.ts';

export type Erasure = { customerId: number; customerMadeAt: number; erasedAt: number };
type By = { personId: string | null; now: number };

/** Numbers of a customer's orders that are still to be done: until then the person is needed. */
export const openOrdersOf = (db: Db, customerId: number): number[] =>
  db
    .select({ number: t.orders.number })
    .from(t.orders)
    .where(
      and(eq(t.orders.customerId, customerId), inArray(t.orders.state, ['draft', 'confirmed', 'packed'])),
    )
    .all()
    .map(({ number }) => number);

function emptyCustomer(tx: Db, id: number, now: number) {
  const blank = { email: '', phone: '', street: '', postcode: '', city: '', region: '', note: '' };
  tx.update(t.customers)
    .set({
      ...blank,
      name: `Erased customer ${id}`,
      erasedAt: now,
      retiredAt: sql`coalesce(${t.customers.retiredAt}, ${now})`,
      version: sql`${t.customers.version} + 1`,
    })
    .where(eq(t.customers.id, id))
    .run();
  // The index is built anew, so that no word stays in a part of it that was only marked as old.
  tx.run(sql`INSERT INTO customer_words (customer_words) VALUES ('rebuild')`);
}

function emptyOrders(tx: Db, { orderIds }: Belongings, by: By) {
  const gone = { note: '', tracking: '', trackingLink: '' };
  tx.update(t.orders).set(gone).where(inArray(t.orders.id, orderIds)).run();
  tx.update(t.orderHistory).set({ note: '' }).where(inArray(t.orderHistory.orderId, orderIds)).run();
  tx.update(t.amends).set({ reason: 'erased' }).where(inArray(t.amends.orderId, orderIds)).run();
  tx.update(t.payments)
    .set({ note: '' })
    .where(and(inArray(t.payments.orderId, orderIds), ne(t.payments.note, '')))
    .run();
  tx.update(t.orderParcels).set({ placeId: null }).where(inArray(t.orderParcels.orderId, orderIds)).run();
  tx.update(t.orderLinks)
    .set({ endedAt: by.now, endedBy: by.personId })
    .where(and(inArray(t.orderLinks.orderId, orderIds), isNull(t.orderLinks.endedAt)))
    .run();
}

/** Addresses and words of mails; what waits is stopped first, so that nobody is written to any more. */
function emptyMails(tx: Db, { orderIds }: Belongings, now: number) {
  const own = inArray(t.mails.orderId, orderIds);
  tx.update(t.mails)
    .set({ state: 'stopped', settledAt: now })
    .where(and(own, eq(t.mails.state, 'waiting')))
    .run();
  tx.update(t.mails)
    .set({
      toName: '',
      toAddress: 'erased@erased.invalid',
      subject: 'erased',
      plain: '',
      html: '',
      answer: '',
      messageId: sql`'<erased-' || ${t.mails.id} || '@erased.invalid>'`,
    })
    .where(own)
    .run();
}

/** What they asked for as strangers; a request that still waits is answered with no. */
function emptyRequests(tx: Db, { requestIds }: Belongings, by: By) {
  const blank = {
    name: '',
    email: '',
    street: '',
    postcode: '',
    city: '',
    region: '',
    country: '',
    note: '',
  };
  const own = inArray(t.orderRequests.id, requestIds);
  tx.update(t.orderRequests).set(blank).where(own).run();
  tx.update(t.orderRequests)
    .set({ state: 'refused', settledBy: by.personId, settledAt: by.now })
    .where(and(own, eq(t.orderRequests.state, 'new')))
    .run();
}

function emptyReports(tx: Db, { reportIds, photoIds }: Belongings) {
  tx.delete(t.arrivalWords).where(inArray(t.arrivalWords.reportId, reportIds)).run();
  tx.delete(t.arrivalPhotoFiles).where(inArray(t.arrivalPhotoFiles.photoId, photoIds)).run();
  tx.delete(t.arrivalPhotos).where(inArray(t.arrivalPhotos.id, photoIds)).run();
}

/** Who did what and when stays in the record of changes; what it says of the person is taken out. */
function emptyRecord(tx: Db, own: Belongings) {
  const erased = '{"erased":true}';
  tx.update(t.audit)
    .set({
      before: sql`iif(${t.audit.before} IS NULL, NULL, ${erased})`,
      after: sql`iif(${t.audit.after} IS NULL, NULL, ${erased})`,
    })
    .where(inRecordOf(own))
    .run();
}

/** News that a page was still to show could name the person. */
const dropNotices = (tx: Db, name: string) =>
  tx
    .update(t.sessions)
    .set({ notice: null })
    .where(sql`instr(${t.sessions.notice}, ${JSON.stringify(name).slice(1, -1)}) > 0`)
    .run();

/**
 * What SQLite has written down of indexes to plan by holds values from them, names among them (ANALYZE with STAT4; `npm run
 * vacuum` asks for it). It is only there once somebody has asked, and plans go by the counts alone without it.
 */
function dropSamples(tx: Db) {
  const there = tx.get(sql`SELECT 1 FROM sqlite_schema WHERE name = 'sqlite_stat4'`);
  if (there) tx.run(sql`DELETE FROM sqlite_stat4`);
}

/**
 * Takes a person out of everything but invoices, which are kept as long as the owner's law asks; orders, animals and
 * amounts stay. It cannot be undone. Call it in one transaction. False where there is no such customer or they were
 * erased before. `erasedAt` is when it was decided, which lies before `now` when it is done again after a restore.
 */
export function eraseCustomer(tx: Db, customerId: number, by: By, erasedAt = by.now): boolean {
  const customer = tx.select().from(t.customers).where(eq(t.customers.id, customerId)).get();
  if (!customer || customer.erasedAt !== null) return false;
  const own = belongingsOf(tx, customerId);
  const { madeAt: customerMadeAt, name } = customer;
  const row = { customerId, customerMadeAt, erasedAt, erasedBy: by.personId };
  tx.insert(t.erasures)
    .values({ ...row, done: false })
    .run();
  emptyCustomer(tx, customerId, erasedAt);
  emptyOrders(tx, own, by);
  emptyMails(tx, own, by.now);
  emptyReports(tx, own);
  emptyRequests(tx, own, by);
  emptyRecord(tx, own);
  dropNotices(tx, name);
  dropSamples(tx);
  tx.update(t.erasures).set({ done: true }).where(eq(t.erasures.customerId, customerId)).run();
  return true;
}

/** Who was erased, by numbers alone: what must be kept beside backups, so that it can be done again on an older one. */
export const listErasures = (db: Db): Erasure[] =>
  db
    .select({
      customerId: t.erasures.customerId,
      customerMadeAt: t.erasures.customerMadeAt,
      erasedAt: t.erasures.erasedAt,
    })
    .from(t.erasures)
    .orderBy(t.erasures.id)
    .all();

/**
 * Erases again, in a database from an older backup, everybody in the list who still stands there as the same customer;
 * returns how many. Run it before anybody works with that database.
 */
export function replayErasures(db: Db, list: readonly Erasure[], now: number): number {
  return db.transaction((tx) => {
    const isThere = ({ customerId, customerMadeAt }: Erasure) =>
      tx.select({ madeAt: t.customers.madeAt }).from(t.customers).where(eq(t.customers.id, customerId)).get()
        ?.madeAt === customerMadeAt;
    return list.filter(
      (one) => isThere(one) && eraseCustomer(tx, one.customerId, { personId: null, now }, one.erasedAt),
    ).length;
  });
}

/** Takes what was erased out of the database's second file too. It can only do so while nobody reads. */
export const cleanLog = (db: Db) => db.all(sql`PRAGMA wal_checkpoint(TRUNCATE)`);

/**
 * The years of keeping are over: names and addresses of customers who were erased go from their invoices as well.
 * Returns how many invoices.
 */
export function forgetBuyers(db: Db, today: string): number {
  const { keepYears } = readInvoicing(db);
  const { invoiceBuyers, invoices, orders, erasures } = t;
  // Kept until the end of a calendar year, so all of an earlier year are over at once.
  const firstKept = `${String(Number(today.slice(0, 4)) - keepYears).padStart(4, '0')}-01-01`;
  const over = db
    .select({ id: invoices.id })
    .from(invoices)
    .innerJoin(orders, eq(orders.id, invoices.orderId))
    .innerJoin(erasures, eq(erasures.customerId, orders.customerId))
    .where(
      and(
        lt(invoices.issuedOn, firstKept),
        exists(
          db.select({ one: sql`1` }).from(invoiceBuyers).where(eq(invoiceBuyers.invoiceId, invoices.id)),
        ),
      ),
    )
    .all();
  if (over.length === 0) return 0;
  const ids = over.map(({ id }) => id);
  return db.delete(invoiceBuyers).where(inArray(invoiceBuyers.invoiceId, ids)).run().changes;
}

/** The last day on which invoices of a customer must be kept with their name; null where there are none. */
export function invoicesKeptUntil(db: Db, customerId: number): { count: number; until: string } | null {
  const { invoiceBuyers, invoices, orders } = t;
  const kept = db
    .select({ n: sql<number>`count(*)`, last: sql<string | null>`max(${invoices.issuedOn})` })
    .from(invoices)
    .innerJoin(orders, eq(orders.id, invoices.orderId))
    .innerJoin(invoiceBuyers, eq(invoiceBuyers.invoiceId, invoices.id))
    .where(eq(orders.customerId, customerId))
    .get();
  if (!kept?.last) return null;
  return { count: kept.n, until: keptUntil(kept.last, readInvoicing(db).keepYears) };
}

/** Customers with nothing open whose last order, or their own entry, is older than that; those longest away first. */
export function inactiveSince(db: Db, before: number, limit: number) {
  const own = sql`orders.customer_id = customers.id`;
  const last = sql<number>`max(${t.customers.madeAt}, coalesce((SELECT max(made_at) FROM orders WHERE ${own}), 0))`;
  return db
    .select({ id: t.customers.id, name: t.customers.name, city: t.customers.city, lastAt: last })
    .from(t.customers)
    .where(
      and(
        isNull(t.customers.erasedAt),
        sql`${last} < ${before}`,
        sql`NOT EXISTS (SELECT 1 FROM orders WHERE ${own} AND state IN ('draft', 'confirmed', 'packed'))`,
      ),
    )
    .orderBy(last, t.customers.id)
    .limit(limit)
    .all();
}

/** Who was erased, the latest first. */
export const erasedCustomers = (db: Db, limit: number) =>
  db
    .select({ id: t.erasures.customerId, erasedAt: t.erasures.erasedAt, by: t.people.name })
    .from(t.erasures)
    .leftJoin(t.people, eq(t.people.id, t.erasures.erasedBy))
    .orderBy(sql`${t.erasures.id} DESC`)
    .limit(limit)
    .all();
