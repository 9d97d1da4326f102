import { h } from 'preact';
import { dayInZone } from '../../shared/zone-day.ts';
import { CustomerPage } from '../../views/customers/page-customer.tsx';
import type { CustomersPageProps } from '../../views/customers/page-customers.tsx';
import { CustomersPage } from '../../views/customers/page-customers.tsx';
import { movementOfCustomer } from '../movement/queries.ts';
import { listOrdersOf, partsOfTotal } from '../orders/queries-list.ts';
import { addressWith, numberIn, pageIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { type Customer, countCustomers, countOrdersOf, listCustomers, readCustomer } from './queries.ts';
import { invoicesKeptUntil } from './queries-erase.ts';

const pageSize = 50;

export function showCustomers(call: StaffCall): Answer {
  const filter = {
    words: (call.query.words ?? '').slice(0, 200).trim(),
    retired: call.query.retired === 'yes',
  };
  const number = pageIn(call);
  const found = listCustomers(call.db, { ...filter, limit: pageSize, offset: (number - 1) * pageSize });
  const rows: CustomersPageProps['rows'] = found.map(({ lastOrderAt, ...row }) => ({
    ...row,
    lastOrderOn: lastOrderAt === null ? null : dayInZone(lastOrderAt, call.business.timeZone),
  }));
  return page(
    h(CustomersPage, {
      furniture: call.furniture,
      rows,
      total: countCustomers(call.db, filter),
      page: number,
      pageSize,
      pageHref: (to) =>
        addressWith('/customers', { words: filter.words, retired: filter.retired ? 'yes' : '', page: to }),
      filter,
    }),
  );
}

/** The customer of the address, or "not found". */
export function customerIn(call: StaffCall): Customer {
  const customer = readCustomer(call.db, numberIn(call, 'id', 'customer'));
  if (!customer) throw notFound('customer');
  return customer;
}

export function showCustomer(call: StaffCall): Answer {
  const customer = customerIn(call);
  const number = pageIn(call);
  const orders = listOrdersOf(call.db, customer.id, { limit: pageSize, offset: (number - 1) * pageSize });
  const [first] = orders;
  return page(
    h(CustomerPage, {
      furniture: call.furniture,
      customer: { ...customer, retired: customer.retiredAt !== null },
      erasedOn: customer.erasedAt === null ? null : dayInZone(customer.erasedAt, call.business.timeZone),
      invoices: invoicesKeptUntil(call.db, customer.id),
      movement: movementOfCustomer(call.db, customer.id, call.today),
      orders: orders.map((order) => ({
        ...order,
        madeOn: dayInZone(order.madeAt, call.business.timeZone),
      })),
      example: first ? { ...first, ...partsOfTotal(call.db, first.id) } : null,
      total: countOrdersOf(call.db, customer.id),
      page: number,
      pageSize,
      pageHref: (to) => addressWith(`/customers/${customer.id}`, { page: to }),
    }),
  );
}
