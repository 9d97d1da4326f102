import { and, asc, count, desc, eq, gte, lte, max, type SQL, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import type { InvoiceDoc } from '../../views/documents/invoice-data.ts';
import { notFound } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { customers, invoiceBuyers, invoiceLines, invoices, invoiceTaxes, orders } from '../schema/tables.ts';
import { readInvoicing } from './queries-invoicing.ts';

export type Invoice = typeof invoices.$inferSelect;
type NewLine = Omit<typeof invoiceLines.$inferInsert, 'invoiceId' | 'position'>;
type NewTax = Omit<typeof invoiceTaxes.$inferInsert, 'invoiceId' | 'position'>;
type Buyer = Omit<typeof invoiceBuyers.$inferSelect, 'invoiceId'>;

/** The next number of the sequence; only inside the transaction that writes the invoice does it mean anything. */
export function nextPlace(tx: Db): number {
  const last = tx
    .select({ id: max(invoices.id) })
    .from(invoices)
    .get()?.id;
  return last ? last + 1 : readInvoicing(tx).firstNumber;
}

/** What belongs to an invoice goes first: once the invoice is there, the database takes nothing more. */
export function insertInvoice(
  tx: Db,
  invoice: Omit<Invoice, 'id'> & { id: number },
  parts: { lines: readonly NewLine[]; taxes: readonly NewTax[]; buyer: Buyer },
) {
  const invoiceId = invoice.id;
  for (const [position, line] of parts.lines.entries())
    tx.insert(invoiceLines)
      .values({ ...line, invoiceId, position })
      .run();
  for (const [position, tax] of parts.taxes.entries())
    tx.insert(invoiceTaxes)
      .values({ ...tax, invoiceId, position })
      .run();
  tx.insert(invoiceBuyers)
    .values({ ...parts.buyer, invoiceId })
    .run();
  tx.insert(invoices).values(invoice).run();
}

const readInvoice = (db: Db, id: number): Invoice | undefined =>
  db.select().from(invoices).where(eq(invoices.id, id)).get();

/** The invoice of the number in the address, or "not found". */
export function loadInvoice(db: Db, id: number): Invoice {
  const invoice = readInvoice(db, id);
  if (!invoice) throw notFound('invoice');
  return invoice;
}

export const linesOfInvoice = (db: Db, id: number) =>
  db
    .select()
    .from(invoiceLines)
    .where(eq(invoiceLines.invoiceId, id))
    .orderBy(asc(invoiceLines.position))
    .all();

export const taxesOfInvoice = (db: Db, id: number) =>
  db
    .select()
    .from(invoiceTaxes)
    .where(eq(invoiceTaxes.invoiceId, id))
    .orderBy(asc(invoiceTaxes.position))
    .all();

export const buyerOf = (db: Db, id: number) =>
  db.select().from(invoiceBuyers).where(eq(invoiceBuyers.invoiceId, id)).get();

/** Credit notes that take back an invoice, with what they gave back by kind of line (below zero). */
export const creditsOf = (db: Db, id: number): Invoice[] =>
  db.select().from(invoices).where(eq(invoices.creditsId, id)).orderBy(asc(invoices.id)).all();

/** An invoice with all it printed. */
export function docOf(db: Db, invoice: Invoice): InvoiceDoc {
  const credited = invoice.creditsId === null ? undefined : readInvoice(db, invoice.creditsId);
  const order = db.select({ number: orders.number }).from(orders).where(eq(orders.id, invoice.orderId)).get();
  const buyer = buyerOf(db, invoice.id);
  return {
    ...invoice,
    orderNumber: order?.number ?? 0,
    seller: {
      name: invoice.sellerName,
      address: invoice.sellerAddress,
      email: invoice.sellerEmail,
      taxNumber: invoice.sellerTaxNumber,
    },
    buyer: buyer ?? null,
    credits: credited ? { number: credited.number, issuedOn: credited.issuedOn } : null,
    lines: linesOfInvoice(db, invoice.id),
    taxes: taxesOfInvoice(db, invoice.id),
  };
}

export const invoicesOfOrder = (db: Db, orderId: number): Invoice[] =>
  db.select().from(invoices).where(eq(invoices.orderId, orderId)).orderBy(asc(invoices.id)).all();

/** The invoice of an order that credit notes have not taken back wholly. */
export function standingInvoice(all: readonly Invoice[]): Invoice | null {
  return (
    all.find((one) => {
      if (one.kind !== 'invoice') return false;
      const credits = all.filter(({ creditsId }) => creditsId === one.id);
      return credits.length === 0 || leftOf(one, credits) > 0;
    }) ?? null
  );
}

/** What credit notes have left of an invoice. */
export const leftOf = (invoice: Invoice, credits: readonly Invoice[]): number =>
  credits.reduce((sum, credit) => sum + credit.totalMinor, invoice.totalMinor);

export type InvoiceFilter = {
  show: 'all' | 'open' | 'overdue';
  from: string | null;
  to: string | null;
  today: string;
};

// Named in full: a column of the outer query loses its table's name inside a subquery.
const owed = sql<number>`(SELECT sum(total_minor) FROM invoices AS o WHERE o.order_id = invoices.order_id)`;
const paid = sql<number>`(SELECT coalesce(sum(CASE kind WHEN 'payment' THEN amount_minor ELSE -amount_minor END), 0)
  FROM payments AS p WHERE p.order_id = invoices.order_id AND p.ended_at IS NULL)`;
const open = sql<number>`(${owed} - ${paid})`;
/** The last invoice of an order stands for what is open of it. */
const isLast = sql`invoices.id = (SELECT max(id) FROM invoices AS l WHERE l.order_id = invoices.order_id AND l.kind = 'invoice')`;

function sought({ show, from, to, today }: InvoiceFilter): SQL | undefined {
  return and(
    from === null ? undefined : gte(invoices.issuedOn, from),
    to === null ? undefined : lte(invoices.issuedOn, to),
    show === 'all' ? undefined : and(isLast, sql`${open} > 0`),
    show === 'overdue' ? sql`${invoices.dueOn} < ${today}` : undefined,
  );
}

export function listInvoices(db: Db, filter: InvoiceFilter & { limit: number; offset: number }) {
  const credited = alias(invoices, 'credited');
  return db
    .select({
      id: invoices.id,
      number: invoices.number,
      kind: invoices.kind,
      credits: credited.number,
      issuedOn: invoices.issuedOn,
      dueOn: invoices.dueOn,
      totalMinor: invoices.totalMinor,
      currency: invoices.currency,
      orderNumber: orders.number,
      buyer: sql<string>`coalesce(${invoiceBuyers.name}, ${customers.name})`,
      openMinor: sql<number | null>`CASE WHEN ${isLast} THEN ${open} END`,
    })
    .from(invoices)
    .innerJoin(orders, eq(orders.id, invoices.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .leftJoin(invoiceBuyers, eq(invoiceBuyers.invoiceId, invoices.id))
    .leftJoin(credited, eq(credited.id, invoices.creditsId))
    .where(sought(filter))
    .orderBy(desc(invoices.id))
    .limit(filter.limit)
    .offset(filter.offset)
    .all();
}

export const countInvoices = (db: Db, filter: InvoiceFilter): number =>
  db.select({ n: count() }).from(invoices).where(sought(filter)).get()?.n ?? 0;
