import { h } from 'preact';
import { isDay } from '../../shared/days.ts';
import { InvoicePage } from '../../views/invoices/page-invoice.tsx';
import { InvoicesPage } from '../../views/invoices/page-invoices.tsx';
import { addressWith, numberIn, pageIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import {
  countInvoices,
  creditsOf,
  docOf,
  type InvoiceFilter,
  invoicesOfOrder,
  leftOf,
  listInvoices,
  loadInvoice,
  taxesOfInvoice,
} from './queries.ts';
import { paymentsOf, settlementOf } from './queries-payments.ts';

const pageSize = 50;

const dayOf = (text: string | undefined): string | null => (text !== undefined && isDay(text) ? text : null);

function filterOf({ query, today }: StaffCall): InvoiceFilter {
  const show = query.show === 'open' || query.show === 'overdue' ? query.show : 'all';
  return { show, from: dayOf(query.from), to: dayOf(query.to), today };
}

export function showInvoices(call: StaffCall): Answer {
  const filter = filterOf(call);
  const number = pageIn(call);
  const { show, from, to } = filter;
  return page(
    h(InvoicesPage, {
      furniture: call.furniture,
      rows: listInvoices(call.db, { ...filter, limit: pageSize, offset: (number - 1) * pageSize }),
      total: countInvoices(call.db, filter),
      page: number,
      pageSize,
      pageHref: (at) => addressWith('/invoices', { show: show === 'all' ? '' : show, from, to, page: at }),
      filter,
    }),
  );
}

export function showInvoice(call: StaffCall): Answer {
  const { db, furniture, today } = call;
  const invoice = loadInvoice(db, numberIn(call, 'id', 'invoice'));
  const credits = creditsOf(db, invoice.id);
  const owed = invoicesOfOrder(db, invoice.orderId).reduce((sum, one) => sum + one.totalMinor, 0);
  return page(
    h(InvoicePage, {
      furniture,
      doc: { ...docOf(db, invoice), taxes: taxesOfInvoice(db, invoice.id) },
      id: invoice.id,
      creditsId: invoice.creditsId,
      credits: credits.map(({ id, number, totalMinor }) => ({ id, number, totalMinor })),
      leftMinor: leftOf(invoice, credits),
      payments: paymentsOf(db, invoice.orderId),
      owedMinor: owed,
      settlement: settlementOf(db, invoice.orderId, owed),
      today,
    }),
  );
}
