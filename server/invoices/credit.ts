import { h } from 'preact';
import { creditForm } from '../../shared/invoices/form.ts';
import { lineKinds } from '../../shared/invoices/tax.ts';
import { writeMoney } from '../../shared/orders/money.ts';
import { minorDigits } from '../../shared/settings/typed-money.ts';
import { CreditPage } from '../../views/invoices/page-credit.tsx';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { amendsOf } from '../arrivals/queries-amends.ts';
import { orderById } from '../orders/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { writingOf } from './make.ts';
import { creditsOf, type Invoice, leftOf, loadInvoice } from './queries.ts';
import { type Credit, leftByKind, writeCredit } from './write.ts';

/** An invoice of which something is left to be given back. */
function invoiceIn(call: StaffCall, db: Db = call.db): Invoice {
  const invoice = loadInvoice(db, numberIn(call, 'id', 'invoice'));
  if (invoice.kind === 'credit') throw conflict('This is a credit note. Only an invoice is taken back.');
  const credits = creditsOf(db, invoice.id);
  if (credits.length > 0 && leftOf(invoice, credits) <= 0)
    throw conflict(`Invoice ${invoice.number} is taken back wholly already.`);
  return invoice;
}

function formPage(call: StaffCall, invoice: Invoice, form: FormState) {
  const { number } = orderById(call.db, invoice.orderId).order;
  return h(CreditPage, {
    furniture: call.furniture,
    invoice: { id: invoice.id, number: invoice.number, currency: invoice.currency, orderNumber: number },
    left: leftByKind(call.db, invoice),
    mayWhole: creditsOf(call.db, invoice.id).length === 0,
    form,
  });
}

/** What was written down after a loss, as the form begins with it. */
function fromAmends(call: StaffCall, invoice: Invoice): FormState {
  const one = amendsOf(call.db, invoice.orderId).find(({ id }) => String(id) === call.query.amends);
  const isBegun = creditsOf(call.db, invoice.id).length > 0;
  if (!one || one.amountMinor === null)
    return isBegun ? { values: { extent: 'part' }, errors: {} } : emptyForm;
  const goods = writeMoney(one.amountMinor, minorDigits(invoice.currency));
  return { values: { extent: 'part', goods, reason: one.reason, amends: String(one.id) }, errors: {} };
}

export function askCredit(call: StaffCall): Answer {
  const invoice = invoiceIn(call);
  return page(formPage(call, invoice, fromAmends(call, invoice)));
}

type Typed = { extent: 'whole' | 'part'; goods?: number; carriage?: number; amends?: number };

/** What is to be given back, or what is wrong with it, by field. */
function creditFrom(db: Db, invoice: Invoice, typed: Typed): Credit | { errors: Record<string, string> } {
  if (typed.extent === 'whole') {
    const isFirst = creditsOf(db, invoice.id).length === 0;
    const errors = { extent: 'Some of it was given back already: write what is left as amounts.' };
    return isFirst ? { extent: 'whole' } : { errors };
  }
  const amounts = { goods: typed.goods ?? 0, carriage: typed.carriage ?? 0 };
  if (amounts.goods + amounts.carriage === 0) return { errors: { goods: 'Write an amount.' } };
  const left = leftByKind(db, invoice);
  const words = (minor: number) => writeMoney(Math.max(0, minor), minorDigits(invoice.currency));
  const tooMuch = lineKinds.filter((kind) => amounts[kind] > left[kind]);
  if (tooMuch.length === 0) return { extent: 'part', amounts };
  const said = tooMuch.map((kind) => [kind, `At most ${words(left[kind])} is left of it.`]);
  return { errors: Object.fromEntries(said) };
}

export function makeCredit(call: StaffCall): Answer {
  const invoice = loadInvoice(call.db, numberIn(call, 'id', 'invoice'));
  const read = readForm(creditForm(invoice.currency), call.body);
  if (!read.ok) return wrongForm(formPage(call, invoiceIn(call), read.form));
  const by = writingOf(call);
  const outcome = call.once((tx): { id: number } | { errors: Record<string, string> } => {
    const stored = invoiceIn(call, tx);
    const credit = creditFrom(tx, stored, read.data);
    if ('errors' in credit) return credit;
    const { reason, amends } = read.data;
    const isOwn = amendsOf(tx, stored.orderId).some(({ id }) => id === amends);
    const amendsId = isOwn && amends !== undefined ? amends : null;
    return { id: writeCredit(tx, orderById(tx, stored.orderId), stored, { credit, reason, amendsId }, by) };
  });
  if ('errors' in outcome)
    return wrongForm(formPage(call, invoiceIn(call), withErrors(read.form, outcome.errors)));
  return redirect(`/invoices/${outcome.id}`, 'The credit note is written.');
}
