import type { Receipt } from '../../views/documents/invoice-data.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, pdf } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { printWhole } from '../plumbing/print-in-thread.ts';
import { printOptions } from '../plumbing/printing.ts';
import { creditsOf, docOf, type Invoice, invoicesOfOrder, loadInvoice } from './queries.ts';
import { paymentsOf, settlementOf } from './queries-payments.ts';

/** As it was on the day it was written: in the language and on the paper of then, whatever has changed since. */
function print(call: StaffCall, invoice: Invoice, receipt: Receipt | null) {
  const { language, locale, paper, madeAt } = invoice;
  const options = {
    ...printOptions(call, call.business),
    language,
    locale,
    paper,
    businessName: invoice.sellerName,
    createdAt: receipt ? call.clock.now() : madeAt,
  };
  const doc = docOf(call.db, invoice);
  return printWhole({ kind: 'invoice', doc, options, receipt });
}

export async function printInvoice(call: StaffCall): Promise<Answer> {
  const invoice = loadInvoice(call.db, numberIn(call, 'id', 'invoice'));
  const { pdf: file } = await print(call, invoice, null);
  return pdf(file, `${invoice.kind}-${invoice.number}.pdf`);
}

/** What was paid for it, by what and when, as it stands today. */
export async function printReceipt(call: StaffCall): Promise<Answer> {
  const { db } = call;
  const invoice = loadInvoice(db, numberIn(call, 'id', 'invoice'));
  if (invoice.kind === 'credit') throw conflict('A credit note has no receipt: print its invoice’s.');
  const owed = invoicesOfOrder(db, invoice.orderId).reduce((sum, one) => sum + one.totalMinor, 0);
  const { openMinor, overMinor } = settlementOf(db, invoice.orderId, owed);
  const credits = creditsOf(db, invoice.id).map(({ number, issuedOn, totalMinor }) => {
    return { number, issuedOn, amountMinor: -totalMinor };
  });
  const receipt = { credits, payments: paymentsOf(db, invoice.orderId), openMinor, overMinor };
  const { pdf: file } = await print(call, invoice, receipt);
  return pdf(file, `receipt-${invoice.number}.pdf`);
}
