import { h } from 'preact';
import { type CustomerForm, customerForm } from '../../shared/customers/form.ts';
import { countryName } from '../../shared/settings/countries.ts';
import { isLanguage, languageNames } from '../../shared/settings/languages.ts';
import { customerLabels, paperWords, unitWords } from '../../views/customers/customer-fields.tsx';
import { CustomerFormPage, type CustomerFormPageProps } from '../../views/customers/page-customer-form.tsx';
import type { Difference } from '../../views/layout/both-versions.tsx';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatMoment } from '../../views/layout/format.ts';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import {
  type Customer,
  columnsOf,
  insertCustomer,
  lastChange,
  readCustomer,
  subjectOf,
  updateCustomer,
} from './queries.ts';
import { customerIn } from './read.ts';

type Extra = Pick<CustomerFormPageProps, 'customer' | 'forOrder' | 'conflict'>;

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

const inWords: Partial<Record<string, (value: string) => string>> = {
  country: countryName,
  units: (value) => unitWords[value as 'metric'] ?? value,
  paper: (value) => paperWords[value as 'A4'] ?? value,
  language: (value) => (isLanguage(value) ? languageNames[value] : value),
  retired: (value) => (value === 'yes' ? 'yes' : 'no'),
};

function differencesBetween(stored: Customer, yours: CustomerForm): Difference[] {
  const before = valuesOf(stored) as Record<string, unknown>;
  const after = { ...yours, retired: yours.retired ?? '' } as Record<string, unknown>;
  return Object.entries(customerLabels)
    .filter(([name]) => before[name] !== after[name])
    .map(([name, field]) => {
      const words = inWords[name] ?? ((value: string) => value);
      return { field, stored: words(String(before[name] ?? '')), yours: words(String(after[name] ?? '')) };
    });
}

function conflictPage(call: StaffCall, form: FormState, stored: Customer, yours: CustomerForm): Answer {
  const last = lastChange(call.db, stored.id);
  const when = last ? formatMoment(last.at, call.business.timeZone, call.business.locale) : null;
  const conflict = {
    savedBy: last?.name ?? null,
    savedWhen: when ? `on ${when}` : 'meanwhile',
    differences: differencesBetween(stored, yours),
  };
  return page(formPage(call, form, { customer: stored, conflict }), 409);
}

export function saveCustomer(call: StaffCall): Answer {
  const customer = customerIn(call);
  const read = readForm(customerForm, call.body);
  if (!read.ok) {
    // The version it was read at stays in the form: what somebody saved meanwhile is still noticed.
    const version = Number(read.form.values.version) || customer.version;
    return wrongForm(formPage(call, read.form, { customer: { ...customer, version } }));
  }
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
  if (!saved) return conflictPage(call, read.form, customer, read.data);
  return redirect(`/customers/${customer.id}`, `${read.data.name} is saved.`);
}
