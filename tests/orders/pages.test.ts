import { describe, expect, it } from 'vitest';
import { formKeys, orders } from '../../server/schema/tables.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

const forHelpers = ['/orders', '/orders/1'];
const forOwners = ['/orders/new', '/orders/1/edit'];
const ownerPosts = [
  '',
  '/1',
  '/1/reserve',
  '/1/release',
  '/1/confirm',
  '/1/cancel',
  '/1/sent',
  '/1/close',
  '/1/back',
];
const helperPosts = ['/1/pack', '/1/unpack'];

async function withDraft() {
  const app = await testApp();
  const order = makeOrder(app.db);
  makeLine(app.db, order.id, makeSpecies(app.db).id, { priceMinor: 4321 });
  return app;
}

describe('who may do what with orders', () => {
  it('lets helpers look and pack, and owners do everything', async () => {
    const { owner, helper, outsider } = await withDraft();
    for (const path of [...forHelpers, ...forOwners]) {
      expect((await owner.get(path)).status, path).toBe(200);
      expect((await helper.get(path)).status, path).toBe(forHelpers.includes(path) ? 200 : 403);
      const turned = await outsider.get(path);
      expect([turned.status, turned.headers.location], path).toEqual([
        303,
        `/sign-in?next=${encodeURIComponent(path)}`,
      ]);
    }
    for (const end of [...ownerPosts, ...helperPosts]) {
      const path = `/orders${end}`;
      const helped = await helper.post(path);
      if (ownerPosts.includes(end)) expect(helped.status, path).toBe(403);
      else expect(helped.status, path).toBe(409); // allowed, but a draft is not packed
      expect((await outsider.post(path)).headers.location, path).toBe('/sign-in');
    }
  });

  it('answers no form without its token or its key', async () => {
    const { db, owner, helper } = await withDraft();
    for (const end of [...ownerPosts, ...helperPosts]) {
      expect((await owner.post(`/orders${end}`, {}, { csrf: 'wrong' })).status, end).toBe(403);
      const origin = { Origin: 'https://elsewhere.example.org' };
      expect((await owner.post(`/orders${end}`, {}, { headers: origin })).status, end).toBe(403);
    }
    expect((await owner.post('/orders/1/cancel', {}, { formKey: 'short' })).status).toBe(400);
    expect((await helper.post('/orders/1/pack', {}, { formKey: '' })).status).toBe(400);
    expect(db.select().from(orders).get()?.state).toBe('draft');
    expect(db.select().from(formKeys).all()).toHaveLength(0);
  });

  it('says of an unknown order that it is not here', async () => {
    const { owner, helper } = await withDraft();
    for (const number of ['2', '0', '-1', '1.0', 'abc', '99999999999999999999', '1%20OR%201=1']) {
      for (const end of ['', '/edit', '/pack'])
        expect((await owner.get(`/orders/${number}${end}`)).status, `${number}${end}`).toBe(404);
      expect((await helper.get(`/orders/${number}`)).status).toBe(404);
    }
    for (const end of [...ownerPosts, ...helperPosts].filter((one) => one.startsWith('/1')))
      for (const number of ['2', 'abc'])
        expect((await owner.post(`/orders/${number}${end.slice(2)}`)).status, `${number}${end}`).toBe(404);
  });

  it('knows no other methods', async () => {
    const { app } = await withDraft();
    for (const method of ['PUT', 'DELETE', 'PATCH'] as const)
      for (const url of ['/orders', '/orders/1', '/orders/1/pack'])
        expect((await app.inject({ method, url })).statusCode, `${method} ${url}`).toBe(404);
    expect((await app.inject({ method: 'GET', url: '/orders/1/reserve' })).statusCode).toBe(404);
  });
});

describe('the list of orders', () => {
  it('shows what is not sent yet, by dispatch day, and marks what is due', async () => {
    const { db, owner } = await testApp();
    const kind = makeSpecies(db);
    const customerId = makeCustomer(db).id;
    const days = [
      ['draft', null],
      ['draft', '2026-12-02'],
      ['confirmed', '2026-11-25'],
      ['packed', '2026-11-24'],
      ['sent', '2026-11-20'],
      ['cancelled', '2026-11-30'],
    ] as const;
    for (const [state, dispatchOn] of days) {
      const order = makeOrder(db, { state, dispatchOn, customerId });
      makeLine(db, order.id, kind.id, { groups: 3 });
    }
    const { text } = await owner.get('/orders');
    const numbers = [...text.matchAll(/href="\/orders\/(\d+)"/g)].map((match) => Number(match[1]));
    expect(numbers).toEqual([4, 3, 2, 1]);
    expect(text).toContain('leaves today');
    expect(text).toContain('its day is over');
    expect(text).toContain('3 groups of');
    expect(text).toContain('€37.50');
    expect(text).toContain('href="/packing-sheets.pdf?day=2026-11-25"');
    const found = async (query: string) =>
      [...(await owner.get(`/orders?${query}`)).text.matchAll(/href="\/orders\/(\d+)"/g)].map((m) =>
        Number(m[1]),
      );
    expect(await found('state=sent')).toEqual([5]);
    expect(await found('state=all')).toEqual([5, 4, 3, 6, 2, 1]);
    expect(await found('state=all&from=2026-11-25&to=2026-11-30')).toEqual([3, 6]);
    expect(await found('state=nonsense&from=then&to=2026-99-99&page=-4')).toEqual([4, 3, 2, 1]);
    expect(await found('state=all&words=%23+3')).toEqual([3]);
  });

  it('finds orders by their customer', async () => {
    const { db, owner } = await testApp();
    for (const name of ['Änne Beispiel', 'Bo Muster'])
      makeOrder(db, { customerId: makeCustomer(db, { name }).id });
    const found = async (words: string) => {
      const { status, text } = await owner.get(`/orders?words=${encodeURIComponent(words)}`);
      expect(status).toBe(200);
      return ['Änne', 'Bo'].filter((name) => text.includes(`for ${name}`));
    };
    expect(await found('anne')).toEqual(['Änne']);
    expect(await found('muster')).toEqual(['Bo']);
    expect(await found('1')).toEqual(['Änne']);
    expect(await found('1234')).toEqual(['Änne', 'Bo']); // the postcode's beginning
    for (const words of ["' UNION SELECT 1 --", '"', '*', 'zzz', '999'])
      expect(await found(words), words).toEqual([]);
  });

  it('tells helpers no prices', async () => {
    const { helper } = await withDraft();
    for (const path of ['/orders', '/orders?state=all', '/orders/1'])
      expect((await helper.get(path)).text, path).not.toMatch(/€|EUR|4321|43\.21/);
  });

  it('pages at fifty', async () => {
    const { db, owner } = await testApp();
    const customerId = makeCustomer(db).id;
    for (let i = 0; i < 55; i++) makeOrder(db, { customerId });
    expect((await owner.get('/orders')).text).toContain('1 to 50 of 55');
    expect((await owner.get('/orders?page=2')).text).toContain('51 to 55 of 55');
  });

  it('says what to do first when there is none', async () => {
    const { owner, helper } = await testApp();
    expect((await owner.get('/orders')).text).toContain('Write an order down');
    expect((await helper.get('/orders')).text).not.toContain('Write an order down');
    expect((await owner.get('/orders?state=closed')).text).toContain('No order fits what you asked for.');
  });
});

describe('words that people type', () => {
  it('are shown as words, never run', async () => {
    const { db, owner, helper } = await testApp();
    const bad = '<img src=x onerror=alert(1)>';
    const customerId = makeCustomer(db, { name: bad, street: bad, city: bad }).id;
    const order = makeOrder(db, { customerId, note: bad });
    makeLine(db, order.id, makeSpecies(db, { commonName: bad }).id);
    for (const path of ['/orders', '/orders/1', '/orders/1/edit', '/orders/new', `/customers/${customerId}`])
      expect((await owner.get(path)).text, path).not.toContain('<img');
    expect((await helper.get('/orders/1')).text).not.toContain('<img');
    expect((await owner.get(`/orders?words=${encodeURIComponent(bad)}`)).text).not.toContain('<img');
  });
});
