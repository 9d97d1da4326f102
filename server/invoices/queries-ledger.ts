import { and, asc, between, eq, isNull } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import type { LedgerRow, Period } from '../../shared/invoices/ledger.ts';
import type { Db } from '../plumbing/open-database.ts';
import { customers, invoiceBuyers, invoices, orders, payments, paymentWays } from '../schema/tables.ts';
import { linesOfInvoice, taxesOfInvoice } from './queries.ts';

const onWords = (tax: { onGoods: boolean; onCarriage: boolean }) =>
  tax.onGoods && tax.onCarriage ? 'animals and postage' : tax.onGoods ? 'animals' : 'postage';

function documentsIn(db: Db, { from, to }: Period) {
  const credited = alias(invoices, 'credited');
  return db
    .select({
      id: invoices.id,
      on: invoices.issuedOn,
      document: invoices.number,
      credits: credited.number,
      order: orders.number,
      customer: invoiceBuyers.name,
      country: invoiceBuyers.country,
      currency: invoices.currency,
    })
    .from(invoices)
    .innerJoin(orders, eq(orders.id, invoices.orderId))
    .leftJoin(invoiceBuyers, eq(invoiceBuyers.invoiceId, invoices.id))
    .leftJoin(credited, eq(credited.id, invoices.creditsId))
    .where(between(invoices.issuedOn, from, to))
    .orderBy(asc(invoices.issuedOn), asc(invoices.id))
    .all();
}

const nothing = {
  quantity: null,
  rateThousandths: null,
  mode: null,
  baseMinor: null,
  way: '',
  note: '',
} as const;

/** Every line and tax of the invoices of a period, then every payment of it that was not taken back. */
export function* ledgerRows(db: Db, period: Period): Generator<LedgerRow> {
  for (const { id, ...found } of documentsIn(db, period)) {
    const { credits, customer, country } = found;
    const head = { ...found, credits: credits ?? '', customer: customer ?? 'erased', country: country ?? '' };
    for (const line of linesOfInvoice(db, id)) {
      const what = [line.words, line.scientificName].filter(Boolean).join(', ');
      const onWhat = line.kind === 'goods' ? 'animals' : 'postage';
      const { quantity, totalMinor: amountMinor } = line;
      yield { ...nothing, ...head, row: 'line', what, onWhat, quantity, amountMinor };
    }
    for (const tax of taxesOfInvoice(db, id)) {
      const { name: what, rateThousandths, mode, baseMinor, taxMinor: amountMinor } = tax;
      const onWhat = onWords(tax);
      yield { ...nothing, ...head, row: 'tax', what, onWhat, rateThousandths, mode, baseMinor, amountMinor };
    }
  }
  const paid = db
    .select({
      on: payments.paidOn,
      row: payments.kind,
      order: orders.number,
      customer: customers.name,
      country: customers.country,
      currency: orders.currency,
      amountMinor: payments.amountMinor,
      way: paymentWays.name,
      note: payments.note,
    })
    .from(payments)
    .innerJoin(orders, eq(orders.id, payments.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(paymentWays, eq(paymentWays.id, payments.wayId))
    .where(and(between(payments.paidOn, period.from, period.to), isNull(payments.endedAt)))
    .orderBy(asc(payments.paidOn), asc(payments.id))
    .all();
  for (const one of paid) {
    const amountMinor = one.row === 'refund' ? -one.amountMinor : one.amountMinor;
    yield { ...nothing, ...one, document: '', credits: '', what: '', onWhat: '', amountMinor };
  }
}
