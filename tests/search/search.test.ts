import { eq } from 'drizzle-orm';
import { beforeEach, describe, expect, it } from 'vitest';
import { cultures, customers, species } from '../../server/schema/tables.ts';
import { makeInvoice } from '../support/invoices.ts';
import { makeCustomer, makeOrder } from '../support/orders.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

let t: TestApp;
let speciesId: number;

beforeEach(async () => {
  t = await testApp();
  speciesId = makeSpecies(t.db, { scientificName: 'Exemplum dubium', commonName: 'pale éxample' }).id;
});

const search = async (who: 'owner' | 'helper', q: string) =>
  (await t[who].get(`/search?q=${encodeURIComponent(q)}`)).text;

describe('the search', () => {
  it('finds cultures by their code, species, morph, note and place, all words together', async () => {
    const placeId = makePlace(t.db, { name: 'Cellar nine' }).id;
    makeCulture(t.db, { speciesId, code: 'EXD-014', placeId, morph: 'orange', note: 'from the big stump' });
    makeCulture(t.db, { speciesId, code: 'EXD-015' });
    for (const q of ['014', 'exd-014 orange', 'stump', 'example cellar', 'DUBIUM nin or']) {
      const text = await search('helper', q);
      expect([q, text.includes('EXD-014'), text.includes('EXD-015')]).toEqual([q, true, false]);
    }
    expect(await search('helper', 'exd dub')).toContain('EXD-015');
    expect(await search('helper', 'cellar orange nowhere')).toContain('Nothing has words that begin with');
    expect((await t.helper.get('/cultures?q=dubium+cellar')).text).toContain('EXD-014');
  });

  it('follows what is changed', async () => {
    const { id } = makeCulture(t.db, { speciesId, code: 'EXD-014' });
    t.db.update(cultures).set({ code: 'NEW-1' }).where(eq(cultures.id, id)).run();
    t.db.update(species).set({ commonName: 'blue one' }).where(eq(species.id, speciesId)).run();
    expect(await search('helper', 'exd-0')).not.toContain('/cultures/NEW-1');
    expect(await search('helper', 'blue')).toContain('/cultures/NEW-1');
    expect(await search('helper', 'pale')).not.toContain('/cultures/NEW-1');
  });

  it('leads from a whole code straight to its culture', async () => {
    makeCulture(t.db, { speciesId, code: 'EXD-014' });
    const { status, headers } = await t.helper.get('/search?q=exd-014');
    expect([status, headers.location]).toEqual([303, '/cultures/EXD-014']);
  });

  it('finds orders by number and customer, and shows helpers no addresses', async () => {
    const customer = makeCustomer(t.db, { name: 'Łucja Brzęk', city: 'Quarzdorf' });
    const order = makeOrder(t.db, { customerId: customer.id });
    expect(await search('helper', `#${order.number}`)).toContain(`/orders/${order.number}`);
    const owners = await search('owner', 'brzek');
    expect(owners).toContain(`/orders/${order.number}`);
    expect(owners).toContain(`/customers/${customer.id}`);
    const helpers = await search('helper', 'brzek');
    expect(helpers).toContain(`/orders/${order.number}`);
    expect(helpers).not.toContain('Quarzdorf');
    expect(helpers).not.toContain('/customers/');
    t.db.update(customers).set({ retiredAt: 1 }).where(eq(customers.id, customer.id)).run();
    expect(await search('owner', 'brzek')).not.toContain('/customers/');
  });

  it('finds invoices by their number, for owners', async () => {
    const id = makeInvoice(t.db, makeOrder(t.db).id);
    for (const typed of [`T-${id}`, `t-${id}`, `000${id}`])
      expect(await search('owner', typed), typed).toContain(`href="/invoices/${id}"`);
    expect(await search('helper', `T-${id}`)).not.toContain('/invoices/');
  });

  it('says that there are more than it shows, and takes any text', async () => {
    for (let i = 10; i < 30; i++) makeCulture(t.db, { speciesId, code: `EXD-${i}` });
    const text = await search('helper', 'dubium');
    expect(text).toContain('There are more.');
    expect(text.match(/href="\/cultures\/EXD-/g)).toHaveLength(12);
    for (const q of ['"', '* OR', 'NEAR(a b)', '()', '\u0000', 'x'.repeat(500), 'a:b', '<b>'])
      expect((await t.owner.get(`/search?q=${encodeURIComponent(q)}`)).status, q).toBe(200);
    expect((await t.outsider.get('/search?q=a')).status).toBe(303);
  });
});
