import { h } from 'preact';
import { mostLines, rowField } from '../../shared/orders/form.ts';
import { writeMoney } from '../../shared/orders/money.ts';
import { countryName } from '../../shared/settings/countries.ts';
import { minorDigits } from '../../shared/settings/typed-money.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { ChooseCustomerPage } from '../../views/orders/page-choose-customer.tsx';
import { OrderFormPage, type OrderFormPageProps } from '../../views/orders/page-order-form.tsx';
import { latestCustomers, listCustomers, readCustomer } from '../customers/queries.ts';
import { addressWith, numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import { overtakenForm } from './both-versions.ts';
import { byOf } from './by.ts';
import { type Customer, latestDrafts, linesOf, loadOrder, type Order, speciesToOrder } from './queries.ts';
import { stockByCode } from './queries-stock.ts';
import { type OrderForm, readOrderForm, rowsOf } from './read-form.ts';
import { addOrder, NotSaved, orderAddress, saveOrder } from './save.ts';

/** Rows that are shown empty, so that a line can be added without a step in between. */
const spareRows = 2;

type Shown = Pick<OrderFormPageProps, 'form' | 'rows'> & {
  order: Order | null;
  customer: Customer;
};

function cultureOf(call: StaffCall): string | null {
  const said = call.body?.culture ?? call.query.culture;
  return typeof said === 'string' && said !== '' ? said.slice(0, 24) : null;
}

function formPage(call: StaffCall, { form, rows, order, customer }: Shown) {
  const culture = cultureOf(call);
  const path = order ? `/orders/${order.number}/edit` : '/orders/new';
  const town = [`${customer.postcode} ${customer.city}`.trim(), countryName(customer.country)];
  return h(OrderFormPage, {
    furniture: call.furniture,
    form,
    order,
    customer: {
      id: customer.id,
      name: customer.name,
      place: town.filter(Boolean).join(', '),
      language: customer.language,
      changeHref: addressWith(path, { customer: 'other', culture }),
    },
    species: speciesToOrder(call.db, order ? linesOf(call.db, order.id).map((line) => line.speciesId) : []),
    rows: Math.min(rows, mostLines),
    currency: order?.currency ?? call.business.currency,
    culture,
  });
}

const choicesShown = 12;

function choosePage(call: StaffCall, path: string, title: string, order: Order | null): Answer {
  const words = (call.query.words ?? '').slice(0, 200).trim();
  const culture = cultureOf(call);
  const found =
    words === ''
      ? latestCustomers(call.db, choicesShown + 1)
      : listCustomers(call.db, { words, retired: false, limit: choicesShown + 1, offset: 0 });
  return page(
    h(ChooseCustomerPage, {
      furniture: call.furniture,
      title,
      breadcrumbs: [
        { href: '/orders', label: 'Orders' },
        ...(order ? [{ href: `/orders/${order.number}`, label: `Order ${order.number}` }] : []),
      ],
      action: path,
      keep: { customer: 'other', ...(culture && { culture }) },
      words,
      choices: found.slice(0, choicesShown).map((one) => ({
        ...one,
        href: addressWith(path, { customer: one.id, culture }),
      })),
      more: found.length > choicesShown,
      newCustomerHref: order ? '/customers/new' : addressWith('/customers/new', { for: 'order', culture }),
      drafts:
        culture && !order
          ? latestDrafts(call.db, 8).map((draft) => ({ ...draft, href: orderAddress(draft.number, culture) }))
          : [],
    }),
  );
}

/** The customer that the address or the form names, if there is one. */
function customerNamed(call: StaffCall): Customer | undefined {
  const said = call.body?.customer ?? call.query.customer;
  return typeof said === 'string' && /^[1-9]\d{0,14}$/.test(said)
    ? readCustomer(call.db, Number(said))
    : undefined;
}

/** The row that a culture's animals would stand in. */
function rowForCulture(call: StaffCall, row: number): FormState['values'] {
  const code = cultureOf(call);
  const stock = code ? stockByCode(call.db, code) : undefined;
  return stock ? { [rowField('species', row)]: stock.speciesId, [rowField('groups', row)]: 1 } : {};
}

export function showNewOrder(call: StaffCall): Answer {
  const customer = customerNamed(call);
  if (!customer) return choosePage(call, '/orders/new', 'New order', null);
  const form = { values: rowForCulture(call, 0), errors: {} };
  return page(formPage(call, { form, rows: 1 + spareRows, order: null, customer }));
}

/** A page that only makes room for more lines; nothing is written and nothing is judged. */
function roomier(call: StaffCall, shown: Omit<Shown, 'form' | 'rows'>): Answer {
  return page(formPage(call, { ...shown, form: typed(call.body), rows: rowsOf(call.body) + 3 }));
}

function wrong(call: StaffCall, shown: Omit<Shown, 'rows'>): Answer {
  return wrongForm(formPage(call, { ...shown, rows: Math.max(1 + spareRows, rowsOf(call.body)) }));
}

export function addNewOrder(call: StaffCall): Answer {
  const customer = customerNamed(call);
  if (!customer) return choosePage(call, '/orders/new', 'New order', null);
  const shown = { order: null, customer };
  if (call.body.more) return roomier(call, shown);
  const { currency } = call.business;
  const read = readOrderForm(call.body, currency);
  if (!read.ok) return wrong(call, { ...shown, form: read.form });
  try {
    const number = call.once((tx) => addOrder(tx, read.data, currency, byOf(call)));
    return redirect(
      orderAddress(number, cultureOf(call)),
      `Order ${number} is written down. Next, reserve its animals.`,
    );
  } catch (error) {
    if (!(error instanceof NotSaved)) throw error;
    return wrong(call, { ...shown, form: withErrors(read.form, error.errors) });
  }
}

function valuesOf(call: StaffCall, order: Order): FormState['values'] {
  const digits = minorDigits(order.currency);
  const values: FormState['values'] = {
    dispatchOn: order.dispatchOn,
    postage: order.postageMinor === 0 ? '' : writeMoney(order.postageMinor, digits),
    language: order.language,
    note: order.note,
    version: order.version,
  };
  for (const [row, line] of linesOf(call.db, order.id).entries()) {
    values[rowField('line', row)] = line.id;
    values[rowField('species', row)] = line.speciesId;
    values[rowField('groups', row)] = line.groups;
    values[rowField('price', row)] = writeMoney(line.priceMinor, digits);
    if (line.separateLines) values[rowField('separateLines', row)] = 'yes';
  }
  return values;
}

export function editOrder(call: StaffCall): Answer {
  const { order, customer } = loadOrder(call.db, numberIn(call, 'number', 'order'));
  if (order.state !== 'draft')
    throw conflict(
      `Order ${order.number} is ${order.state}, and only a draft can be changed. Release what is reserved to make it a draft again.`,
    );
  if (call.query.customer === 'other')
    return choosePage(
      call,
      `/orders/${order.number}/edit`,
      `Another customer for order ${order.number}`,
      order,
    );
  const lines = linesOf(call.db, order.id).length;
  const form = { values: { ...valuesOf(call, order), ...rowForCulture(call, lines) }, errors: {} };
  return page(
    formPage(call, { form, rows: lines + spareRows, order, customer: customerNamed(call) ?? customer }),
  );
}

function overtakenPage(call: StaffCall, data: OrderForm, customer: Customer): Answer {
  const stored = loadOrder(call.db, numberIn(call, 'number', 'order'));
  const rows = Math.max(1 + spareRows, rowsOf(call.body));
  const form = overtakenForm(call, stored, data, customer);
  return page(formPage(call, { form, rows, order: stored.order, customer }), 409);
}

export function changeOrderForm(call: StaffCall): Answer {
  const { order, customer: before } = loadOrder(call.db, numberIn(call, 'number', 'order'));
  const customer = customerNamed(call) ?? before;
  const shown = { order, customer };
  if (call.body.more) return roomier(call, shown);
  const read = readOrderForm(call.body, order.currency);
  if (!read.ok) return wrong(call, { ...shown, form: read.form });
  try {
    const saved = call.once((tx) => saveOrder(tx, order.number, read.data, call.body, byOf(call)));
    if (!saved) return overtakenPage(call, read.data, customer);
    return redirect(orderAddress(order.number, cultureOf(call)), `Order ${order.number} is saved.`);
  } catch (error) {
    if (!(error instanceof NotSaved)) throw error;
    return wrong(call, { ...shown, form: withErrors(read.form, error.errors) });
  }
}
