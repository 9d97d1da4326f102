import type { addMail } from '../../server/mails/queries.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import * as tables from '../../server/schema/tables.ts';
import { testNow } from './test-app.ts';

/** Rows of customers and orders for tests, each complete by itself and changed by what a test names. */

type CustomerRow = typeof tables.customers.$inferInsert;
type OrderRow = typeof tables.orders.$inferInsert;
type LineRow = typeof tables.orderLines.$inferInsert;

export function makeCustomer(db: Db, overrides: Partial<CustomerRow> = {}) {
  return db
    .insert(tables.customers)
    .values({
      name: 'Carla Customer',
      email: 'carla@example.org',
      phone: '',
      street: '2 Example Road',
      postcode: '12345',
      city: 'Exampletown',
      region: '',
      country: 'DE',
      units: 'metric',
      paper: 'A4',
      note: '',
      madeAt: testNow,
      ...overrides,
    })
    .returning()
    .get();
}

/** A draft with the next number, and a customer of its own where the test names none. */
export function makeOrder(db: Db, overrides: Partial<OrderRow> = {}) {
  const numbers = db.select({ number: tables.orders.number }).from(tables.orders).all();
  return db
    .insert(tables.orders)
    .values({
      number: Math.max(0, ...numbers.map((row) => row.number)) + 1,
      state: 'draft',
      currency: 'EUR',
      postageMinor: 0,
      dispatchOn: null,
      note: '',
      version: 1,
      madeAt: testNow,
      ...overrides,
      customerId: overrides.customerId ?? makeCustomer(db).id,
    })
    .returning()
    .get();
}

/** One group of 10 adults and 2 juveniles with 2 extras, for 12.50. */
export function makeLine(db: Db, orderId: number, speciesId: number, overrides: Partial<LineRow> = {}) {
  return db
    .insert(tables.orderLines)
    .values({
      position: 0,
      groups: 1,
      groupAdults: 10,
      groupJuveniles: 2,
      groupExtras: 2,
      priceMinor: 1250,
      ...overrides,
      orderId,
      speciesId,
    })
    .returning()
    .get();
}

/** A mail to Carla that goes out a minute from now, about nothing in particular. */
export function makeMail(overrides: Partial<Parameters<typeof addMail>[1]> = {}) {
  return {
    kind: 'order confirmed',
    tellsOf: 'order 1',
    orderId: null,
    toName: 'Carla Customer',
    toAddress: 'carla@example.org',
    language: 'en',
    subject: 'About your order',
    plain: 'Dear Carla,\n\nyour animals are reserved.',
    html: '<p>Dear Carla</p>',
    withCareSheets: false,
    giveUpAt: (overrides.madeAt ?? testNow) + 3 * 86_400_000,
    madeBy: null,
    madeAt: testNow,
    ...overrides,
  } as const satisfies Parameters<typeof addMail>[1];
}
