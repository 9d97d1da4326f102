import { h } from 'preact';
import { customerForm } from '../../shared/customers/form.ts';
import { CustomerFormPage, type CustomerFormPageProps } from '../../views/customers/page-customer-form.tsx';
import type { FormState } from '../../views/layout/form-state.ts';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { tooLate } from '../plumbing/edits.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import {
  type Customer,
  columnsOf,
  insertCustomer,
  readCustomer,
  subjectOf,
  updateCustomer,
} from './queries.ts';
import { customerIn } from './read.ts';

type Extra = Pick<CustomerFormPageProps, 'customer' | 'forOrder'>;

const formPage = (call: StaffCall, form: FormState, extra: Extra) =>
  h(CustomerFormPage, { furniture: call.furniture, form, ...extra });

/** An order may wait for its new customer; the culture it began with travels along. */
function waitingOrder(call: StaffCall): CustomerFormPageProps['forOrder'] {
  const said = (name: string) => {
    const value = call.body?.[name] ?? call.query[name];
    return typeof value === 'string' ? value : null;
  };
  return said('for') === 'order' ? { culture: said('culture')?.slice(0, 24) ?? null } : undefined;
}

export function showNewCustomer(call: StaffCall): Answer {
  const { country, units, paper, language } = call.business;
  const form = { values: { country, units, paper, language }, errors: {} };
  return page(formPage(call, form, { customer: null, forOrder: waitingOrder(call) }));
}

export function addCustomer(call: StaffCall): Answer {
  const forOrder = waitingOrder(call);
  const read = readForm(customerForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form, { customer: null, forOrder }));
  const now = call.clock.now();
  const id = call.once((tx) => {
    const values = columnsOf(read.data, now);
    const made = insertCustomer(tx, values, { madeBy: call.who.id, madeAt: now });
    note(tx, { at: now, personId: call.who.id, action: 'added', subject: subjectOf(made), after: values });
    return made;
  });
  const saved = `${read.data.name} is written down.`;
  if (forOrder)
    return redirect(addressWith('/orders/new', { customer: id, culture: forOrder.culture }), saved);
  return redirect(`/customers/${id}`, saved);
}

const valuesOf = (customer: Customer): FormState['values'] => ({
  ...customer,
  retired: customer.retiredAt === null ? '' : 'yes',
});

/** Nothing may be written to somebody who was erased: it would be a person's again. */
function notErased(customer: Customer): Customer {
  if (customer.erasedAt !== null) throw conflict('This customer was erased and cannot be changed.');
  return customer;
}

export function editCustomer(call: StaffCall): Answer {
  const customer = notErased(customerIn(call));
  return page(formPage(call, { values: valuesOf(customer), errors: {} }, { customer }));
}

export function saveCustomer(call: StaffCall): Answer {
  const customer = customerIn(call);
  const read = readForm(customerForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form, { customer }));
  const now = call.clock.now();
  const saved = call.once((tx) => {
    const stored = readCustomer(tx, customer.id);
    if (!stored) throw notFound('customer');
    notErased(stored);
    if (read.data.version !== stored.version) return false;
    const values = columnsOf(read.data, now, stored.retiredAt);
    updateCustomer(tx, stored.id, values);
    const changes = changesBetween<Record<string, unknown>>(stored, values);
    note(tx, {
      at: now,
      personId: call.who.id,
      action: 'changed',
      subject: subjectOf(stored.id),
      ...changes,
    });
    return true;
  });
  if (!saved) {
    const now = customerIn(call);
    const late = tooLate(call, valuesOf(now), { subject: subjectOf(now.id) }, String(now.version));
    return page(formPage(call, late, { customer: now }), 409);
  }
  return redirect(`/customers/${customer.id}`, `${read.data.name} is saved.`);
}
