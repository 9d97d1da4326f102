import { h } from 'preact';
import { whyNotAddressed } from '../../shared/customers/address.ts';
import { invoiceForm } from '../../shared/invoices/form.ts';
import { numberWords } from '../../shared/invoices/settlement.ts';
import { MakeInvoicePage } from '../../views/invoices/page-make.tsx';
import type { FormState } from '../../views/layout/form-state.ts';
import { type LoadedOrder, loadOrder } from '../orders/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import { invoicesOfOrder, nextPlace, standingInvoice } from './queries.ts';
import { buyerFor, draftOf, likelySupplyDay, printOf } from './queries-draft.ts';
import { readInvoicing } from './queries-invoicing.ts';
import { type Writing, writeInvoice } from './write.ts';

export const writingOf = (call: StaffCall): Writing => ({
  business: call.business,
  today: call.today,
  personId: call.who.id,
  now: call.clock.now(),
});

function orderIn(call: StaffCall): LoadedOrder {
  const loaded = loadOrder(call.db, numberIn(call, 'number', 'order'));
  const { number, state } = loaded.order;
  if (state === 'draft' || state === 'cancelled')
    throw conflict(`Order ${number} is ${state}. An invoice is written once an order is confirmed.`);
  return loaded;
}

const onDay = (call: StaffCall, suppliedOn: string) => ({ business: call.business, suppliedOn });

function formPage(call: StaffCall, loaded: LoadedOrder, form: FormState, changed = false) {
  const { order, customer } = loaded;
  const typed = String(form.values.suppliedOn ?? '');
  const suppliedOn = form.errors.suppliedOn === undefined && typed !== '' ? typed : call.today;
  const draft = draftOf(call.db, loaded, onDay(call, suppliedOn));
  const { prefix } = readInvoicing(call.db);
  return h(MakeInvoicePage, {
    furniture: call.furniture,
    order: { number: order.number, currency: order.currency },
    number: numberWords(prefix, nextPlace(call.db)),
    buyer: buyerFor(loaded, draft.speaker),
    concern: whyNotAddressed(customer),
    draft,
    seen: printOf(draft, loaded),
    changed,
    form,
  });
}

export function askInvoice(call: StaffCall): Answer {
  const loaded = orderIn(call);
  const standing = standingInvoice(invoicesOfOrder(call.db, loaded.order.id));
  if (standing) return redirect(`/invoices/${standing.id}`);
  const suppliedOn = likelySupplyDay(loaded, call.today);
  const asked = readForm(invoiceForm, { suppliedOn: call.query.suppliedOn ?? suppliedOn });
  return page(formPage(call, loaded, asked.form));
}

/** Nothing is written but what the owner has looked at: it could not be changed any more. */
export function makeInvoice(call: StaffCall): Answer {
  const { number } = orderIn(call).order;
  const read = readForm(invoiceForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, orderIn(call), read.form));
  const { suppliedOn, seen } = read.data;
  const by = writingOf(call);
  const id = call.once((tx) => {
    const loaded = loadOrder(tx, number);
    if (printOf(draftOf(tx, loaded, onDay(call, suppliedOn)), loaded) !== seen) return null;
    return writeInvoice(tx, loaded, suppliedOn, by);
  });
  if (id === null) return page(formPage(call, orderIn(call), read.form, true), 409);
  return redirect(`/invoices/${id}`, 'The invoice is written. Print it, or save it as a PDF.');
}
