import { expect } from 'vitest';
import { invoices } from '../../server/schema/tables.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

export const vat = {
  name: 'VAT',
  rate: '19',
  mode: 'included',
  onGoods: 'yes',
  onCarriage: 'yes',
  fromOn: '2026-01-01',
};

export const settings = {
  prefix: 'RE-',
  firstNumber: 7,
  taxNumber: 'DE000000000',
  termDays: 14,
  payWords: 'To the account on our site.',
  keepYears: 10,
  inactiveYears: 3,
};

/** What the settings' form was filled with. */
export const seenOn = async ({ owner }: TestApp) =>
  /name="version" value="(\w+)"/.exec((await owner.get('/settings/invoices')).text)?.[1] ?? '';

export async function bench() {
  const t = await testApp();
  expect((await t.owner.post('/settings/invoices/taxes', vat)).status).toBe(303);
  expect((await t.owner.post('/settings/invoices', { ...settings, version: await seenOn(t) })).status).toBe(
    303,
  );
  return t;
}

/** Two groups at 12.50 and postage of 5.00, confirmed: 30.00 with 19 % in it. */
export function confirmed(t: TestApp, more: Parameters<typeof makeOrder>[1] = {}) {
  const order = makeOrder(t.db, { state: 'confirmed', postageMinor: 500, ...more });
  makeLine(t.db, order.id, makeSpecies(t.db).id, { groups: 2 });
  return order;
}

export const all = (t: TestApp) => t.db.select().from(invoices).all();
/** Looks at what an invoice would say on that day, then writes it. */
export async function write(t: TestApp, number: number, suppliedOn = testToday) {
  const asked = await t.owner.get(`/orders/${number}/invoice?suppliedOn=${suppliedOn}`);
  const seen = /name="seen" value="(\w+)"/.exec(asked.text)?.[1] ?? '';
  return t.owner.post(`/orders/${number}/invoice`, { suppliedOn, seen });
}
