import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { audit, customers } from '../../server/schema/tables.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

const carla = {
  name: 'Carla Customer',
  email: 'carla@example.org',
  phone: '',
  street: '2 Example Road\r\nBack door',
  postcode: '12345',
  city: 'Exampletown',
  region: '',
  country: 'DE',
  units: 'metric',
  paper: 'A4',
  note: 'rings twice',
};

describe('who may see customers', () => {
  it('is the owner alone', async () => {
    const { db, owner, helper, outsider } = await testApp();
    const { id } = makeCustomer(db);
    for (const path of ['/customers', '/customers/new', `/customers/${id}`, `/customers/${id}/edit`]) {
      expect((await owner.get(path)).status, path).toBe(200);
      expect((await helper.get(path)).status, path).toBe(403);
      const turned = await outsider.get(path);
      expect([turned.status, turned.headers.location], path).toEqual([
        303,
        `/sign-in?next=${encodeURIComponent(path)}`,
      ]);
    }
    for (const path of ['/customers', `/customers/${id}`]) {
      expect((await helper.post(path, carla)).status).toBe(403);
      expect((await outsider.post(path, carla)).headers.location).toBe('/sign-in');
    }
    expect(db.select().from(customers).all()).toHaveLength(1);
  });

  it('says of an unknown one that it is not here', async () => {
    const { owner } = await testApp();
    for (const id of ['1', '0', '-1', '1.5', 'abc', '99999999999999999999', '1%20OR%201=1']) {
      expect((await owner.get(`/customers/${id}`)).status, id).toBe(404);
      expect((await owner.get(`/customers/${id}/edit`)).status, id).toBe(404);
      expect((await owner.post(`/customers/${id}`, carla)).status, id).toBe(404);
    }
  });

  it('knows no other methods, and no form without its token', async () => {
    const { app, db, owner } = await testApp();
    for (const method of ['PUT', 'DELETE', 'PATCH'] as const)
      expect((await app.inject({ method, url: '/customers' })).statusCode).toBe(404);
    expect((await owner.post('/customers', carla, { csrf: 'wrong' })).status).toBe(403);
    expect(db.select().from(customers).all()).toHaveLength(0);
  });
});

describe('writing a customer down', () => {
  it('keeps the lines of the street and says who wrote it', async () => {
    const { db, owner } = await testApp();
    const answer = await owner.post('/customers', carla);
    expect(answer.status).toBe(303);
    const [row] = db.select().from(customers).all();
    expect(answer.headers.location).toBe(`/customers/${row?.id}`);
    expect(row).toMatchObject({ ...carla, street: '2 Example Road\nBack door', madeBy: 'person-owner' });
    expect(
      db
        .select()
        .from(audit)
        .where(eq(audit.subject, `customer ${row?.id}`))
        .all(),
    ).toHaveLength(1);
    const shown = await owner.get(`/customers/${row?.id}`);
    expect(shown.text).toContain('Carla Customer is written down.');
    expect(shown.text).toContain('Back door');
    expect(shown.text).toContain('Germany');
  });

  it('acts once when the form is sent twice', async () => {
    const { db, owner } = await testApp();
    const first = await owner.post('/customers', carla, { formKey: 'the-same-form-key-01' });
    const second = await owner.post('/customers', carla, { formKey: 'the-same-form-key-01' });
    expect(second.headers.location).toBe(first.headers.location);
    expect(db.select().from(customers).all()).toHaveLength(1);
  });

  it('brings a wrong form back with what was typed', async () => {
    const { db, owner } = await testApp();
    const answer = await owner.post('/customers', {
      ...carla,
      name: '  ',
      email: 'not an address',
      country: 'Atlantis',
      note: '<script>alert(1)</script>',
    });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('Write the name that stands on the parcel.');
    expect(answer.text).toContain('This is not an e-mail address.');
    expect(answer.text).toContain('Choose a country from the list.');
    expect(answer.text).toContain('value="not an address"');
    expect(answer.text).toContain('2 Example Road\r\nBack door');
    expect(answer.text).toContain('&lt;script>alert(1)&lt;/script>');
    expect(answer.text).not.toContain('<script>alert');
    const long = await owner.post('/customers', { ...carla, name: 'x'.repeat(201) });
    expect(long.text).toContain('This is too long: 200 characters at most.');
    expect(db.select().from(customers).all()).toHaveLength(0);
  });

  it('takes no field that the form does not have', async () => {
    const { db, owner } = await testApp();
    await owner.post('/customers', { ...carla, id: 77, madeBy: 'person-helper', madeAt: 1, retiredAt: 5 });
    expect(db.select().from(customers).get()).toMatchObject({
      id: 1,
      madeBy: 'person-owner',
      retiredAt: null,
    });
  });

  it('goes back to the order that waits for it', async () => {
    const { owner } = await testApp();
    const form = await owner.get('/customers/new?for=order&culture=EX-001');
    expect(form.text).toContain('name="culture" value="EX-001"');
    const answer = await owner.post('/customers', { ...carla, for: 'order', culture: 'EX-001' });
    expect(answer.headers.location).toBe('/orders/new?customer=1&culture=EX-001');
  });
});

describe('changing a customer', () => {
  it('saves, and notices when somebody else saved meanwhile', async () => {
    const { db, owner } = await testApp();
    const { id } = makeCustomer(db);
    const mine = await owner.post(`/customers/${id}`, { ...carla, city: 'Newtown', version: 1 });
    expect(mine.status).toBe(303);
    const theirs = await owner.post(`/customers/${id}`, {
      ...carla,
      city: 'Oldtown',
      paper: 'Letter',
      version: 1,
    });
    expect(theirs.status).toBe(409);
    expect(theirs.text).toContain('Olive Owner');
    for (const word of ['Newtown', 'Oldtown', 'US Letter']) expect(theirs.text).toContain(word);
    expect(theirs.text).toContain('name="version" value="2"');
    expect(db.select().from(customers).get()?.city).toBe('Newtown');
    const again = await owner.post(`/customers/${id}`, {
      ...carla,
      city: 'Oldtown',
      paper: 'Letter',
      version: 2,
    });
    expect(again.status).toBe(303);
    expect(db.select().from(customers).get()).toMatchObject({ city: 'Oldtown', paper: 'Letter', version: 3 });
  });

  it('still notices after a wrong form in between', async () => {
    const { db, owner } = await testApp();
    const { id } = makeCustomer(db);
    await owner.post(`/customers/${id}`, { ...carla, city: 'Newtown', version: 1 });
    const wrong = await owner.post(`/customers/${id}`, { ...carla, name: '', version: 1 });
    expect(wrong.text).toContain('name="version" value="1"');
    const without = await owner.post(`/customers/${id}`, { ...carla, city: 'Elsewhere' });
    expect(without.status).toBe(409);
    expect(db.select().from(customers).get()?.city).toBe('Newtown');
  });

  it('writes down what changed', async () => {
    const { db, owner } = await testApp();
    const { id } = makeCustomer(db);
    await owner.post(`/customers/${id}`, {
      ...carla,
      street: '2 Example Road',
      note: '',
      city: 'Newtown',
      version: 1,
    });
    const row = db.select().from(audit).get();
    expect(row).toMatchObject({ personId: 'person-owner', subject: `customer ${id}`, action: 'changed' });
    expect(JSON.parse(row?.before ?? '')).toEqual({ city: 'Exampletown' });
    expect(JSON.parse(row?.after ?? '')).toEqual({ city: 'Newtown' });
  });

  it('puts one away and takes one out again', async () => {
    const { db, owner } = await testApp();
    const { id } = makeCustomer(db);
    await owner.post(`/customers/${id}`, { ...carla, retired: 'yes', version: 1 });
    const listed = async (path: string) => (await owner.get(path)).text.includes(`href="/customers/${id}"`);
    expect(await listed('/customers')).toBe(false);
    expect(await listed('/customers?retired=yes')).toBe(true);
    expect((await owner.get(`/customers/${id}`)).text).not.toContain('New order');
    await owner.post(`/customers/${id}`, { ...carla, version: 2 });
    expect(await listed('/customers')).toBe(true);
  });
});

describe('finding customers', () => {
  it('finds by the beginning of any word, whatever the accents', async () => {
    const { db, owner } = await testApp();
    makeCustomer(db, {
      name: 'Änne Müster-Schmidt',
      email: 'aenne@example.org',
      city: 'Köln',
      postcode: '50667',
    });
    makeCustomer(db, { name: 'Bo Beispiel', email: '', city: 'Bonn', postcode: '53111' });
    const found = async (words: string) => {
      const { status, text } = await owner.get(`/customers?words=${encodeURIComponent(words)}`);
      expect(status, words).toBe(200);
      return ['Änne Müster-Schmidt', 'Bo Beispiel'].filter((name) => text.includes(name));
    };
    expect(await found('schm')).toEqual(['Änne Müster-Schmidt']);
    expect(await found('anne koln')).toEqual(['Änne Müster-Schmidt']);
    expect(await found('ÄNNE')).toEqual(['Änne Müster-Schmidt']);
    expect(await found('aenne@example.org')).toEqual(['Änne Müster-Schmidt']);
    expect(await found('53111')).toEqual(['Bo Beispiel']);
    expect(await found('b')).toEqual(['Bo Beispiel']);
    expect(await found('')).toEqual(['Änne Müster-Schmidt', 'Bo Beispiel']);
    for (const words of [
      'chmidt',
      '*',
      '"',
      "' OR 1=1 --",
      'name:bo',
      'NEAR(bo)',
      '😀',
      '(',
      'x'.repeat(3000),
    ])
      expect(await found(words), words).toEqual([]);
    expect(await found('bo AND')).toEqual([]);
  });

  it('follows a changed name', async () => {
    const { db, owner } = await testApp();
    const { id } = makeCustomer(db);
    await owner.post(`/customers/${id}`, { ...carla, name: 'Dora Different', version: 1 });
    expect((await owner.get('/customers?words=carl')).text).toContain('Dora Different'); // by the e-mail
    expect((await owner.get('/customers?words=customer')).text).not.toContain('Dora Different');
    expect((await owner.get('/customers?words=diff')).text).toContain('Dora Different');
  });

  it('shows fifty at a time', async () => {
    const { db, owner } = await testApp();
    for (let i = 0; i < 60; i++) makeCustomer(db, { name: `Customer ${String(i).padStart(2, '0')}` });
    const first = await owner.get('/customers');
    expect(first.text).toContain('1 to 50 of 60');
    expect(first.text).not.toContain('Customer 50');
    const second = await owner.get('/customers?page=2');
    expect(second.text).toContain('Customer 59');
    for (const page of ['0', '-1', 'x', '1e9'])
      expect((await owner.get(`/customers?page=${page}`)).status).toBe(200);
  });

  it('shows a customer with their orders and exact totals', async () => {
    const { db, owner } = await testApp();
    const customer = makeCustomer(db);
    const order = makeOrder(db, { customerId: customer.id, postageMinor: 495, dispatchOn: '2026-11-30' });
    const kind = makeSpecies(db);
    makeLine(db, order.id, kind.id, { groups: 3, priceMinor: 1999 });
    makeLine(db, order.id, kind.id, { groups: 1, priceMinor: 100_000, withdrawn: true });
    const { text } = await owner.get(`/customers/${customer.id}`);
    expect(text).toContain(`href="/orders/${order.number}"`);
    expect(text).toContain('€64.92'); // 3 x 19.99 + 4.95
    expect(text).toContain('30 Nov 2026');
    expect((await owner.get('/customers')).text).toMatch(/data-label="Open orders">1</);
  });
});
