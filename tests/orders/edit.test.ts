import { asc, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { allocations, audit, orderHistory, orderLines, orders } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

const linesIn = ({ db }: TestApp) =>
  db.select().from(orderLines).where(eq(orderLines.withdrawn, false)).orderBy(asc(orderLines.position)).all();

describe('writing an order down', () => {
  it('begins with the customer', async () => {
    const { db, owner } = await testApp();
    makeCustomer(db, { name: 'Bo Beispiel' });
    const first = await owner.get('/orders/new?culture=EX-9');
    expect(first.text).toContain('For whom is it?');
    expect(first.text).toContain('href="/orders/new?customer=1&amp;culture=EX-9"');
    expect(first.text).toContain('href="/customers/new?for=order&amp;culture=EX-9"');
    expect((await owner.get('/orders/new?customer=other&words=beisp')).text).toContain('Bo Beispiel');
    expect((await owner.get('/orders/new?customer=other&words=zz')).text).not.toContain('Bo Beispiel');
    expect((await owner.get('/orders/new?customer=77')).text).toContain('For whom is it?');
  });

  it('numbers it, copies make-up and price from the species, and says who wrote it', async () => {
    const app = await testApp();
    const { db, owner } = app;
    const customer = makeCustomer(db);
    const kind = makeSpecies(db, { groupAdults: 8, groupJuveniles: 3, groupExtras: 1, priceMinor: 1999 });
    makeOrder(db, { number: 41 });
    const fields = {
      customer: customer.id,
      'species-0': kind.id,
      'groups-0': 2,
      'price-0': '',
      'species-1': kind.id,
      'groups-1': 1,
      'price-1': '12,50',
      'species-2': '',
      'groups-2': '',
      'price-2': '',
      postage: '4.95',
      dispatchOn: '2026-11-30',
      note: 'Ring twice.\r\nBack door.',
    };
    const answer = await owner.post('/orders', fields);
    expect([answer.status, answer.headers.location]).toEqual([303, '/orders/42']);
    const order = db.select().from(orders).where(eq(orders.number, 42)).get();
    expect(order).toMatchObject({
      state: 'draft',
      customerId: customer.id,
      currency: 'EUR',
      postageMinor: 495,
      dispatchOn: '2026-11-30',
      note: 'Ring twice.\nBack door.',
      version: 1,
      madeBy: 'person-owner',
    });
    expect(linesIn(app)).toMatchObject([
      { groups: 2, priceMinor: 1999, groupAdults: 8, groupJuveniles: 3, groupExtras: 1 },
      { groups: 1, priceMinor: 1250 },
    ]);
    expect(db.select().from(orderHistory).all()).toMatchObject([{ state: 'draft', madeBy: 'person-owner' }]);
    expect(db.select().from(audit).where(eq(audit.subject, 'order 42')).all()).toHaveLength(1);
    const shown = await owner.get('/orders/42');
    expect(shown.text).toContain('€57.43'); // 2 x 19.99 + 12.50 + 4.95
    expect(shown.text).toContain('Olive Owner');
  });

  it('acts once when it is sent twice, also at once', async () => {
    const { db, owner } = await testApp();
    const fields = { customer: makeCustomer(db).id, 'species-0': makeSpecies(db).id, 'groups-0': 1 };
    await owner.csrf();
    const send = () => owner.post('/orders', fields, { formKey: 'the-same-order-twice' });
    const answers = [await send(), ...(await Promise.all(Array.from({ length: 8 }, send)))];
    for (const answer of answers) expect(answer.headers.location).toBe('/orders/1');
    expect(db.select().from(orders).all()).toHaveLength(1);
    expect((await owner.post('/orders', fields)).headers.location).toBe('/orders/2');
  });

  it('brings a wrong form back with what was typed and a word beside each field', async () => {
    const { db, owner } = await testApp();
    const kind = makeSpecies(db);
    const hidden = makeSpecies(db, { sellable: false });
    const fields = {
      customer: makeCustomer(db).id,
      'species-0': kind.id,
      'groups-0': '0',
      'price-0': '1,250',
      'species-1': '',
      'groups-1': '3',
      'price-1': '',
      'species-2': kind.id,
      'groups-2': 'some',
      'price-2': '-4',
      postage: '€5',
      dispatchOn: '2026-02-30',
      note: '<b>note</b>',
    };
    const answer = await owner.post('/orders', fields);
    expect(answer.status).toBe(422);
    for (const words of [
      'Must be between 1 and 1000.',
      'Write thousands without a mark between them',
      'Choose a species.',
      'Write a whole number, such as 12.',
      'An amount cannot be below zero.',
      'Write an amount, such as 12.50, without the currency.',
      'Write a day of the calendar',
      'value="1,250"',
      'value="some"',
      '&lt;b>note&lt;/b>',
    ])
      expect(answer.text, words).toContain(words);
    const past = await owner.post('/orders', {
      customer: 1,
      'species-0': kind.id,
      'groups-0': 1,
      dispatchOn: '2026-11-24',
    });
    expect(past.text).toContain('This day is over.');
    const notForSale = await owner.post('/orders', { customer: 1, 'species-0': hidden.id, 'groups-0': 1 });
    expect(notForSale.text).toContain('Choose a species from the list.');
    const none = await owner.post('/orders', { customer: 1, 'species-0': '', 'groups-0': '' });
    expect(none.text).toContain('an order has at least one line');
    expect(db.select().from(orders).all()).toHaveLength(0);
    expect(db.select().from(orderLines).all()).toHaveLength(0);
  });

  it('makes room for more lines and loses nothing', async () => {
    const { db, owner } = await testApp();
    const customer = makeCustomer(db).id;
    makeSpecies(db);
    const answer = await owner.post('/orders', {
      customer,
      'species-0': '',
      'groups-0': 'seven',
      'species-1': '',
      more: 'yes',
    });
    expect(answer.status).toBe(200);
    expect(answer.text).toContain('name="species-4"');
    expect(answer.text).not.toContain('name="species-5"');
    expect(answer.text).toContain('value="seven"');
    expect(db.select().from(orders).all()).toHaveLength(0);
  });

  it('begins with the species of a culture, and keeps the culture in view', async () => {
    const { db, owner } = await testApp();
    const customer = makeCustomer(db).id;
    const kind = makeSpecies(db);
    makeSpecies(db);
    const culture = makeCounted(db, kind.id, 120);
    makeOrder(db);
    const choose = await owner.get(`/orders/new?culture=${culture.code}`);
    expect(choose.text).toContain(`href="/orders/1?culture=${culture.code}"`);
    const form = await owner.get(`/orders/new?culture=${culture.code}&customer=${customer}`);
    expect(form.text).toMatch(new RegExp(`<option (selected )?value="${kind.id}"( selected)?>`));
    expect(form.text).toContain(`name="culture" value="${culture.code}"`);
    const made = await owner.post('/orders', {
      customer,
      culture: culture.code,
      'species-0': kind.id,
      'groups-0': 2,
    });
    expect(made.headers.location).toBe(`/orders/2?culture=${culture.code}`);
    const page = await owner.get(`/orders/2?culture=${culture.code}`);
    const field = new RegExp(`<input[^>]*name="groups-\\d+-${culture.id}"[^>]*>`).exec(page.text)?.[0];
    expect(field).toContain('value="2"');
    const elsewhere = await owner.get(`/orders/1?culture=${culture.code}`);
    expect(elsewhere.text).toContain(`href="/orders/1/edit?culture=${culture.code}"`);
    const added = await owner.get(`/orders/1/edit?culture=${culture.code}`);
    expect(added.text).toMatch(/name="groups-0"[^>]*value="1"/);
    expect((await owner.get('/orders/2?culture=%27%3B--')).status).toBe(200);
  });
});

async function draft() {
  const app = await testApp();
  const kind = makeSpecies(app.db);
  const other = makeSpecies(app.db);
  const order = makeOrder(app.db);
  const line = makeLine(app.db, order.id, kind.id, { groups: 2 });
  const form = {
    version: 1,
    customer: order.customerId,
    'line-0': line.id,
    'species-0': kind.id,
    'groups-0': 2,
  };
  return { app, kind, other, order, line, form, path: `/orders/${order.number}` };
}

describe('changing a draft', () => {
  it('keeps lines, adds others, and takes off what was emptied', async () => {
    const { app, kind, other, line, form, path } = await draft();
    const price = { 'price-0': '11' };
    const add = { 'species-1': other.id, 'groups-1': 3 };
    expect((await app.owner.post(path, { ...form, ...price, ...add })).status).toBe(303);
    expect(linesIn(app)).toMatchObject([
      { id: line.id, groups: 2, priceMinor: 1100 },
      { speciesId: other.id, groups: 3 },
    ]);
    const second = linesIn(app)[1];
    await app.owner.post(path, {
      version: 2,
      customer: 1,
      'line-0': line.id,
      'species-0': '',
      'groups-0': '',
      'line-1': second?.id ?? 0,
      'species-1': kind.id,
      'groups-1': 1,
    });
    expect(linesIn(app)).toMatchObject([{ speciesId: kind.id, groups: 1, priceMinor: kind.priceMinor }]);
    expect(app.db.select().from(orderLines).all()).toHaveLength(1);
    expect(app.db.select().from(orders).get()?.version).toBe(3);
  });

  it('shows both versions to whoever saves second, and loses neither', async () => {
    const { app, form, path } = await draft();
    await app.owner.post(path, { ...form, note: 'first', postage: '3' });
    const second = await app.owner.post(path, { ...form, note: 'second', 'groups-0': 5 });
    expect(second.status).toBe(409);
    for (const words of [
      'Olive Owner',
      'first',
      'second',
      '€3.00',
      '5 × ',
      '2 × ',
      'name="version" value="2"',
    ])
      expect(second.text, words).toContain(words);
    expect(app.db.select().from(orders).get()?.note).toBe('first');
    const wrong = await app.owner.post(path, { ...form, 'groups-0': 'x' });
    expect(wrong.text).toContain('name="version" value="1"');
    expect((await app.owner.post(path, { ...form, version: 2, note: 'second' })).status).toBe(303);
    expect(app.db.select().from(orders).get()?.note).toBe('second');
  });

  it('does not take off what is reserved, and keeps a line that was once promised on', async () => {
    const { app, kind, other, line, form, path } = await draft();
    const culture = makeCounted(app.db, kind.id, 200);
    const field = `groups-${line.id}-${culture.id}`;
    expect((await app.owner.post(`${path}/reserve`, { [field]: 2 })).status).toBe(303);
    const fewer = await app.owner.post(path, { ...form, 'groups-0': 1 });
    expect(fewer.status).toBe(422);
    expect(fewer.text).toContain('are reserved on this line. Release them first.');
    const another = await app.owner.post(path, { ...form, 'species-0': other.id });
    expect(another.text).toContain('are reserved on this line. Release them first.');
    expect(
      (await app.owner.post(path, { version: 1, customer: 1, 'species-0': other.id, 'groups-0': 1 })).status,
    ).toBe(422);
    expect((await app.owner.post(path, { ...form, 'groups-0': 3 })).status).toBe(303);
    await app.owner.post(`${path}/release`, { allocation: app.db.select().from(allocations).get()?.id ?? 0 });
    await app.owner.post(path, { ...form, version: 2, 'species-0': other.id });
    expect(linesIn(app)).toMatchObject([{ speciesId: other.id }]);
    expect(app.db.select().from(orderLines).where(eq(orderLines.id, line.id)).get()?.withdrawn).toBe(true);
    expect((await app.owner.get(path)).text).not.toContain(`${kind.scientificName}</i>`);
  });

  it('is refused once the order is no draft', async () => {
    const { app, form, path } = await draft();
    app.db.update(orders).set({ state: 'confirmed' }).run();
    expect((await app.owner.get(`${path}/edit`)).status).toBe(409);
    const answer = await app.owner.post(path, form);
    expect(answer.status).toBe(409);
    expect(answer.text).toContain('only a draft can be changed');
  });

  it('takes another customer', async () => {
    const { app, form, path } = await draft();
    const other = makeCustomer(app.db, { name: 'Dora Different' });
    expect((await app.owner.get(`${path}/edit?customer=other`)).text).toContain('Dora Different');
    expect((await app.owner.get(`${path}/edit?customer=${other.id}`)).text).toContain('For Dora Different');
    await app.owner.post(path, { ...form, customer: other.id });
    expect(app.db.select().from(orders).get()?.customerId).toBe(other.id);
    const away = makeCustomer(app.db, { name: 'Gone Away', retiredAt: 1 });
    const refused = await app.owner.post(path, { ...form, version: 2, customer: away.id });
    expect(refused.text).toContain('Gone Away is put away.');
  });
});
