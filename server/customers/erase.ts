import { h } from 'preact';
import { eraseForm, isTypedRight } from '../../shared/customers/erase-form.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { ErasePage } from '../../views/customers/page-erase.tsx';
import { ForgetPage } from '../../views/customers/page-forget.tsx';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { readInvoicing } from '../invoices/queries-invoicing.ts';
import { type Answer, download, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { inPassing } from '../plumbing/database-faults.ts';
import { conflict } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { exportCustomer } from './export.ts';
import { type Customer, countOrdersOf, subjectOf } from './queries.ts';
import {
  cleanLog,
  eraseCustomer,
  erasedCustomers,
  inactiveSince,
  invoicesKeptUntil,
  openOrdersOf,
} from './queries-erase.ts';
import { customerIn } from './read.ts';

const mostShown = 200;
const yearMs = 365.25 * 86_400_000;

/** What is kept of one customer, for them to have. */
export function giveOutCustomer(call: StaffCall): Answer {
  const { id } = customerIn(call);
  return download(exportCustomer(call.db, id, call.clock.now()), 'application/zip', `customer-${id}.zip`);
}

function erasePage(call: StaffCall, customer: Customer, form: FormState) {
  const { db, furniture } = call;
  return h(ErasePage, {
    furniture,
    customer: { id: customer.id, name: customer.name },
    orders: countOrdersOf(db, customer.id),
    openOrders: openOrdersOf(db, customer.id),
    invoices: invoicesKeptUntil(db, customer.id),
    form,
  });
}

function notErased(customer: Customer): Customer {
  if (customer.erasedAt !== null) throw conflict('This customer is erased already.');
  return customer;
}

export const askErase = (call: StaffCall): Answer =>
  page(erasePage(call, notErased(customerIn(call)), emptyForm));

export function erase(call: StaffCall): Answer {
  const customer = customerIn(call);
  const read = readForm(eraseForm, call.body);
  if (!read.ok) return wrongForm(erasePage(call, customer, read.form));
  if (!isTypedRight(read.data.number, customer.id)) {
    const errors = { number: `Type ${customer.id}, the number of this customer.` };
    return wrongForm(erasePage(call, customer, withErrors(read.form, errors)));
  }
  const by = { personId: call.who.id, now: call.clock.now() };
  call.once((tx) => {
    const open = openOrdersOf(tx, customer.id);
    if (open.length > 0)
      throw conflict(
        `Order ${open.join(', ')} is still open. Send or cancel it first, then erase the customer.`,
      );
    if (!eraseCustomer(tx, customer.id, by)) throw conflict('This customer is erased already.');
    note(tx, { at: by.now, personId: by.personId, action: 'erased', subject: subjectOf(customer.id) });
    return true;
  });
  // The person is erased by now: that the log is not emptied at once must not look as if nothing had been done.
  inPassing(() => cleanLog(call.db));
  call.keeper?.rememberErased();
  return redirect(`/customers/${customer.id}`, 'The person is erased. The orders stay, without a name.');
}

/** Who has not ordered for long, and who was erased. */
export function showForget(call: StaffCall): Answer {
  const { db, furniture, business } = call;
  const { inactiveYears } = readInvoicing(db);
  const before = call.clock.now() - inactiveYears * yearMs;
  const dayOf = (at: number) => dayInZone(at, business.timeZone);
  return page(
    h(ForgetPage, {
      furniture,
      years: inactiveYears,
      inactive: inactiveSince(db, before, mostShown).map(({ lastAt, ...row }) => ({
        ...row,
        lastOn: dayOf(lastAt),
        invoicesUntil: invoicesKeptUntil(db, row.id)?.until ?? null,
      })),
      erased: erasedCustomers(db, mostShown).map(({ id, erasedAt, by }) => ({
        id,
        erasedOn: dayOf(erasedAt),
        by,
        invoicesUntil: invoicesKeptUntil(db, id)?.until ?? null,
      })),
    }),
  );
}
