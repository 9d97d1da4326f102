import { describe, expect, it } from 'vitest';
import { addressOfOrder } from '../../server/arrivals/queries-links.ts';
import { encloseCareSheets } from '../../server/documents/enclose.ts';
import { addMail, openMails } from '../../server/mails/queries.ts';
import { tellHeld } from '../../server/mails/queries-tell.ts';
import { orderById } from '../../server/orders/queries.ts';
import { mails, orders } from '../../server/schema/tables.ts';
import { readBusiness } from '../../server/settings/queries.ts';
import { withPage } from '../../views/mails/letter.tsx';
import { decodeQr, readPdf } from '../documents/read-pdf.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { describedSpecies } from '../support/described-species.ts';
import { makeCustomer, makeLine, makeMail, makeOrder } from '../support/orders.ts';
import { cast, type TestApp, testApp, testToday } from '../support/test-app.ts';

const withServer = { SMTP_HOST: '127.0.0.1', SMTP_ENCRYPTION: 'none' };

/** An order of Carla's, who reads German, with all its groups reserved by the owner. */
async function reservedOrder(t: TestApp, customer: Parameters<typeof makeCustomer>[1] = { language: 'de' }) {
  const species = describedSpecies(t.db);
  const culture = makeCounted(t.db, species.id, 140);
  const order = makeOrder(t.db, {
    customerId: makeCustomer(t.db, customer).id,
    dispatchOn: '2026-12-02',
    postageMinor: 500,
  });
  const line = makeLine(t.db, order.id, species.id);
  const answer = await t.owner.post('/orders/1/reserve', { [`groups-${line.id}-${culture.id}`]: '1' });
  expect(answer.status).toBe(303);
  return order;
}

const written = (t: TestApp) => t.db.select().from(mails).all();
const states = (t: TestApp) => written(t).map(({ kind, state }) => `${kind}: ${state}`);

describe('a customer', () => {
  it('is told of the confirmation in their language, once however often it is sent', async () => {
    const t = await testApp(withServer);
    await reservedOrder(t);
    expect((await t.owner.get('/orders/1')).text).toContain('Confirm and tell the customer');
    const key = { formKey: 'one-and-the-same-key' };
    await t.owner.post('/orders/1/confirm', { tell: 'yes' }, key);
    await t.owner.post('/orders/1/confirm', { tell: 'yes' }, key);
    const [mail, ...others] = written(t);
    expect(others).toEqual([]);
    expect(mail).toMatchObject({
      toAddress: 'carla@example.org',
      language: 'de',
      subject: 'Bestellung 1 ist bestätigt',
      state: 'waiting',
    });
    expect(mail?.plain).toContain('Guten Tag Carla Customer,');
    expect(mail?.plain).toMatch(/1 Gruppe Exemplum numerus\d+ \(.+\) mit 10 erwachsenen/);
    expect(mail?.plain).toContain('10 erwachsenen Tieren und 2 Jungtieren');
    expect(mail?.plain).toContain('17,50\u00a0€');
    expect(mail?.plain).toContain('Mittwoch, 2. Dezember 2026');
    expect(mail?.html).toContain('<html lang="de">');
  });

  it.each([
    ['nobody asked for it', withServer, {}, { email: 'carla@example.org' }],
    ['there is no mail server', {}, { tell: 'yes' }, { email: 'carla@example.org' }],
    ['no address is known', withServer, { tell: 'yes' }, { email: '' }],
  ])('is not told where %s, and the order goes on', async (_, env, body, customer) => {
    const t = await testApp(env);
    await reservedOrder(t, customer);
    await t.owner.post('/orders/1/confirm', body);
    expect(written(t)).toEqual([]);
    expect(t.db.select({ state: orders.state }).from(orders).all()).toEqual([{ state: 'confirmed' }]);
  });

  it('is told nothing of an order that is not confirmed because something fails', async () => {
    const t = await testApp(withServer);
    await reservedOrder(t);
    t.sqlite.exec(
      `CREATE TRIGGER no_mail BEFORE INSERT ON mails BEGIN SELECT RAISE(ABORT, 'disk full'); END`,
    );
    expect((await t.owner.post('/orders/1/confirm', { tell: 'yes' })).status).toBe(500);
    expect(t.db.select({ state: orders.state }).from(orders).all()).toEqual([{ state: 'draft' }]);
    expect(written(t)).toEqual([]);
  });

  it('is told how to follow the parcel and what to do, and not if it did not leave after all', async () => {
    const t = await testApp(withServer);
    const order = await reservedOrder(t, { language: 'es' });
    await t.owner.post('/orders/1/confirm', {});
    t.db.update(orders).set({ state: 'packed' }).run();
    const wrong = await t.owner.post('/orders/1/sent', {
      sentOn: testToday,
      trackingLink: 'javascript:alert(1)',
      tracking: 'X-12',
      tell: 'yes',
    });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('beginning with https://');
    expect(wrong.text).toContain('value="X-12"');
    await t.owner.post('/orders/1/sent', {
      sentOn: testToday,
      trackingLink: 'https://carrier.example.org/X-12',
      tracking: 'X-12',
      tell: 'yes',
    });
    const [mail] = written(t);
    expect(mail).toMatchObject({ kind: 'order sent', language: 'es', withCareSheets: true });
    expect(mail?.plain).toContain('miércoles, 25 de noviembre de 2026');
    expect(mail?.plain).toContain('https://carrier.example.org/X-12');
    expect(mail?.plain).toContain('Cuándo preocuparse');
    const page = (await t.owner.get('/orders/1')).text;
    expect(page).toContain('Mails to the customer');
    expect(page).toContain('href="https://carrier.example.org/X-12"');
    await t.owner.post('/orders/1/back');
    expect(states(t)).toEqual(['order sent: stopped']);
    expect(orderById(t.db, order.id).order.state).toBe('packed');
  });

  it.each([
    ['cancelled', (t: TestApp) => t.owner.post('/orders/1/cancel', { reason: 'changed their mind' })],
    ['a draft again', (t: TestApp) => t.owner.post('/orders/1/release', { allocation: '1' })],
  ])('is not told that an order is confirmed which is %s within the minute', async (_, undo) => {
    const t = await testApp(withServer);
    await reservedOrder(t);
    await t.owner.post('/orders/1/confirm', { tell: 'yes' });
    expect((await undo(t)).status).toBe(303);
    expect(states(t)).toEqual(['order confirmed: stopped']);
  });

  it('gets the care sheets of exactly the order with the mail that it is sent', async () => {
    const t = await testApp(withServer);
    const order = await reservedOrder(t);
    const business = readBusiness(t.db);
    const config = { baseUrl: 'https://bench.example.org', host: '127.0.0.1', port: 4780 };
    const parts = { db: t.db, clock: t.clock, business, config };
    const [file, ...others] = await encloseCareSheets(parts, order.id);
    expect([file?.fileName, others]).toEqual(['care-sheets-1.pdf', []]);
    // before the order is confirmed it has no page
    expect((await readPdf(file!.bytes)).words).not.toContain('Scan to tell us');
    await t.owner.post('/orders/1/confirm', {});
    const [confirmed] = await encloseCareSheets(parts, order.id);
    const address = addressOfOrder(t.db, order.id, { base: config.baseUrl, now: t.clock.now() });
    expect(address).toMatch(/^https:\/\/bench\.example\.org\/o\/.{43}$/);
    expect(decodeQr((await readPdf(confirmed!.bytes)).pages[0]!)).toBe(address);
  });

  it('finds the page of the order in every mail, and nobody finds it in the outbox', async () => {
    const t = await testApp({ ...withServer, BASE_URL: 'https://bench.example.org' });
    const order = await reservedOrder(t);
    await t.owner.post('/orders/1/confirm', { tell: 'yes' });
    t.db.update(orders).set({ state: 'packed' }).run();
    await t.owner.post('/orders/1/sent', { sentOn: testToday, tell: 'yes' });
    tellHeld(t.db, orderById(t.db, order.id), { personId: cast.owner.id, now: t.clock.now() });
    const address = addressOfOrder(t.db, order.id, { base: 'https://bench.example.org', now: t.clock.now() });
    const sent = written(t);
    expect(sent.map(({ kind }) => kind)).toEqual(['order confirmed', 'order sent', 'order held']);
    for (const { id, plain, html } of sent) {
      expect(plain + html).not.toContain('/o/');
      expect(withPage(plain, address)).toContain(`\n${address}\n`);
      expect(withPage(html, address)).toContain(`<p><a href="${address}">`);
      expect(withPage(html, address)).not.toContain('invalid');
      // an address that was ended is left out, with the words that lead to it
      expect(withPage(plain, null)).not.toMatch(/invalid|eigenen Seite|Sagen Sie uns hier/);
      expect(withPage(html, null)).not.toMatch(/invalid|eigenen Seite|Sagen Sie uns hier/);
      expect(withPage(plain, null)).toMatch(/\n\n[^\n]+\nTest Bench\n/);
      expect((await t.owner.get(`/mails/${id}`)).text).toContain(String(address));
    }
  });
});

describe('the mails', () => {
  it('that did not go out are shown, stopped, and sent again to the address of now', async () => {
    const t = await testApp(withServer);
    const order = makeOrder(t.db);
    addMail(t.db, makeMail({ orderId: order.id }));
    t.sqlite
      .prepare(
        `UPDATE mails SET state = 'refused', settled_at = 1, answer = '550 <b>no such user</b>', tries = 1`,
      )
      .run();
    expect((await t.owner.get('/orders')).text).toContain('1 mail to customers did not go out for certain');
    expect((await t.helper.get('/orders')).text).not.toContain('/mails');
    const list = (await t.owner.get('/mails?open=yes')).text;
    expect(list).toContain('550 &lt;b>no such user&lt;/b>');
    t.sqlite.prepare(`UPDATE customers SET email = 'new@example.org'`).run();
    expect((await t.owner.post('/mails/1/again')).status).toBe(303);
    expect(written(t)[0]).toMatchObject({ state: 'waiting', toAddress: 'new@example.org', tries: 0 });
    await t.owner.post('/mails/1/stop');
    expect(states(t)).toEqual(['order confirmed: stopped']);
    expect((await t.owner.post('/mails/1/stop')).status).toBe(409);
    expect(openMails(t.db)).toBe(0);
  });

  it('are listed when there are many, a page at a time', async () => {
    const t = await testApp(withServer);
    for (let n = 1; n <= 60; n += 1)
      addMail(t.db, makeMail({ tellsOf: `order ${n}`, toName: `Nobody ${n}` }));
    const first = (await t.owner.get('/mails')).text;
    expect(first).toContain('Nobody 60');
    expect(first).not.toContain('Nobody 10<');
    expect((await t.owner.get('/mails?page=2')).text).toContain('Nobody 10<');
  });

  it('can be tried out by the owner', async () => {
    const t = await testApp(withServer);
    expect((await t.owner.post('/mails/test')).status).toBe(303);
    expect(written(t)[0]).toMatchObject({ kind: 'test', toAddress: 'bench@example.org' });
    const without = await testApp();
    expect((await without.owner.get('/mails')).text).toContain('No mail server is named');
    expect((await without.owner.post('/mails/test')).status).toBe(409);
  });

  it('find what is due without reading all that were ever written', async () => {
    const t = await testApp();
    const plan = (sql: string) =>
      (t.sqlite.prepare(`EXPLAIN QUERY PLAN ${sql}`).all() as { detail: string }[])
        .map(({ detail }) => detail)
        .join();
    expect(
      plan(
        `SELECT * FROM mails WHERE state = 'waiting' AND next_try_at <= 5 ORDER BY next_try_at, id LIMIT 1`,
      ),
    ).toContain('mails_to_send');
    expect(plan(`SELECT count(*) FROM mails WHERE state IN ('unsure', 'refused', 'too late')`)).toContain(
      'mails_need_somebody',
    );
  });
});

describe('the mail server', () => {
  it.each([
    [{ SMTP_HOST: 'mail.example.org', SMTP_ENCRYPTION: 'none' }, 'lets everybody'],
    [{ SMTP_HOST: 'mail.example.org', SMTP_USER: 'bench' }, 'SMTP_PASSWORD'],
    [{ SMTP_HOST: 'mail.example.org', MAIL_FROM: 'nobody' }, 'MAIL_FROM'],
    [{ SMTP_HOST: 'mail.example.org', SMTP_PORT: '99999' }, 'SMTP_PORT'],
  ])('is refused at the start where %o', async (env, words) => {
    await expect(testApp(env)).rejects.toThrow(words);
  });
});
