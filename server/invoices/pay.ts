import { h } from 'preact';
import { paymentForm } from '../../shared/invoices/form.ts';
import { writeMoney } from '../../shared/orders/money.ts';
import { minorDigits } from '../../shared/settings/typed-money.ts';
import { PaymentPage } from '../../views/invoices/page-payment.tsx';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatMoney } from '../../views/layout/format.ts';
import { type LoadedOrder, loadOrder } from '../orders/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { listWays, readWay } from './queries-invoicing.ts';
import { moneyOf } from './queries-order-part.ts';
import { endPayment, insertPayment } from './queries-payments.ts';

const orderIn = (call: StaffCall) => loadOrder(call.db, numberIn(call, 'number', 'order'));

const moneyNow = (call: StaffCall, loaded: LoadedOrder) =>
  moneyOf(call.db, loaded, { business: call.business, today: call.today });

function formPage(call: StaffCall, loaded: LoadedOrder, form: FormState) {
  const { number, currency } = loaded.order;
  const { owedMinor, settlement } = moneyNow(call, loaded);
  return h(PaymentPage, {
    furniture: call.furniture,
    order: { number, currency },
    owedMinor,
    settlement,
    ways: listWays(call.db).filter(({ retiredAt }) => retiredAt === null),
    form,
  });
}

/** What is open, or what was paid too much, stands in the form already. */
export function askPayment(call: StaffCall): Answer {
  const loaded = orderIn(call);
  const { openMinor, overMinor } = moneyNow(call, loaded).settlement;
  const amount = openMinor || overMinor;
  const values = {
    kind: openMinor === 0 && overMinor > 0 ? 'refund' : 'payment',
    amount: amount > 0 ? writeMoney(amount, minorDigits(loaded.order.currency)) : '',
    paidOn: call.today,
  };
  return page(formPage(call, loaded, { values, errors: {} }));
}

export function addPayment(call: StaffCall): Answer {
  const loaded = orderIn(call);
  const { id: orderId, number, currency } = loaded.order;
  const read = readForm(paymentForm(currency), call.body);
  if (!read.ok) return wrongForm(formPage(call, loaded, read.form));
  const { kind, amount, way, paidOn, note: words } = read.data;
  const by = { madeBy: call.who.id, madeAt: call.clock.now() };
  const kept = call.once((tx): { id: number; over: number } | { errors: Record<string, string> } => {
    const known = readWay(tx, way);
    if (!known || known.retiredAt !== null) return { errors: { way: 'Choose a way from the list.' } };
    if (paidOn > call.today) return { errors: { paidOn: 'This day is still to come.' } };
    const before = moneyOf(tx, loaded, { business: call.business, today: call.today });
    if (kind === 'refund' && amount > before.settlement.paidMinor)
      return { errors: { amount: 'That is more than was paid.' } };
    const row = { orderId, kind, amountMinor: amount, wayId: way, paidOn, note: words, ...by };
    const id = insertPayment(tx, row);
    const after = { kind, amountMinor: amount, wayId: way, paidOn };
    note(tx, {
      at: by.madeAt,
      personId: by.madeBy,
      action: `wrote down a ${kind}`,
      subject: `payment ${id}`,
      after,
    });
    const { overMinor } = moneyOf(tx, loaded, { business: call.business, today: call.today }).settlement;
    return { id, over: kind === 'payment' ? overMinor : 0 };
  });
  if ('errors' in kept) return wrongForm(formPage(call, loaded, withErrors(read.form, kept.errors)));
  const over = formatMoney(kept.over, currency, call.business.locale);
  return redirect(`/orders/${number}`, {
    text: kept.over > 0 ? `It is written down. That is ${over} too much.` : 'It is written down.',
    tone: kept.over > 0 ? 'needs-you' : 'plain',
    undo: { action: `/orders/${number}/payments/${kept.id}/end`, label: 'Undo' },
  });
}

export function takePaymentBack(call: StaffCall): Answer {
  const { id: orderId, number } = orderIn(call).order;
  const id = numberIn(call, 'id', 'payment');
  const by = { personId: call.who.id, now: call.clock.now() };
  call.once((tx) => {
    if (!endPayment(tx, orderId, id, by)) throw conflict('This was taken back already.');
    note(tx, { at: by.now, personId: by.personId, action: 'took back', subject: `payment ${id}` });
    return true;
  });
  return redirect(`/orders/${number}`, 'It is taken back.');
}
