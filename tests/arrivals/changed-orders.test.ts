import { beforeEach, describe, expect, it } from 'vitest';
import { addressOfOrder, ensureLink } from '../../server/arrivals/queries-links.ts';
import { eraseCustomer } from '../../server/customers/queries-erase.ts';
import { changeOrder } from '../../server/orders/queries.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { formsOn } from '../support/page-parts.ts';
import { makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

const by = { personId: cast.owner.id, now: testNow };

let t: TestApp;
let carla: ReturnType<typeof makeCustomer>;
let order: ReturnType<typeof makeOrder>;
let speciesId: number;

beforeEach(async () => {
  t = await testApp();
  carla = makeCustomer(t.db);
  order = makeOrder(t.db, { customerId: carla.id });
  speciesId = makeSpecies(t.db).id;
  makeLine(t.db, order.id, speciesId);
});

/** Saves the order as its form stands, with another customer. */
async function give(number: number, customerId: number) {
  const page = `/orders/${number}/edit`;
  const form = formsOn((await t.owner.get(page)).text, page).find(
    ({ action }) => action === `/orders/${number}`,
  );
  return t.owner.post(`/orders/${number}`, { ...form!.untouched, customer: customerId } as never);
}

const page = () => addressOfOrder(t.db, order.id, { base: '', now: t.clock.now() });
const customerOf = () =>
  t.sqlite.prepare('SELECT customer_id FROM orders WHERE id = ?').pluck().get(order.id);

describe('the address of an order that is changed', () => {
  it('never opens the order of another customer: an order that was confirmed stays theirs', async () => {
    const dora = makeCustomer(t.db, { name: 'Dora Different', email: 'dora@example.org' });
    expect((await give(order.number, dora.id)).status).toBe(303);
    expect((await give(order.number, carla.id)).status).toBe(303);
    // confirmed, told, and then a draft again because something was released
    ensureLink(t.db, order, by);
    const address = page()!;
    const { status, text } = await give(order.number, dora.id);
    expect([status, customerOf()]).toEqual([422, carla.id]);
    expect(text).toContain('It stays theirs: cancel it, and write a new one.');
    // also where the address was closed meanwhile: what was mailed is about its first customer
    t.sqlite.exec(`UPDATE order_links SET ended_at = ${testNow}`);
    expect((await give(order.number, dora.id)).status).toBe(422);
    expect((await give(order.number, carla.id)).status).toBe(303);
    expect((await t.outsider.get(address)).status).toBe(404);
  });

  it('says only that it was cancelled, and opens nothing once its customer is erased', async () => {
    ensureLink(t.db, order, by);
    const address = page()!;
    changeOrder(t.db, order.id, { state: 'cancelled', note: 'owes us' });
    const cancelled = await t.outsider.get(address);
    expect([cancelled.status, cancelled.text.includes('owes us'), cancelled.text.includes('Carla')]).toEqual([
      200,
      false,
      false,
    ]);
    expect((await t.outsider.get(`${address}/care-sheets.pdf`)).headers.location).toBe(address);
    const said = await t.outsider.upload(address, [], { all: 'well', formKey: 'form-0123456789abcdef' });
    expect(said.status).toBe(200);
    expect(t.sqlite.prepare('SELECT count(*) FROM arrival_reports').pluck().get()).toBe(0);
    t.db.transaction((tx) => eraseCustomer(tx, carla.id, by));
    for (const path of [address, `${address}/care-sheets.pdf`, `${address}?x=1`, `${address}/`])
      expect([path, (await t.outsider.get(path)).status]).toEqual([path, 404]);
    expect(
      (await t.outsider.upload(address, [], { all: 'well', formKey: 'form-0123456789abcdeg' })).status,
    ).toBe(404);
    expect(page()).toBeNull();
  });
});
