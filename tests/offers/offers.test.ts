import { eq } from 'drizzle-orm';
import * as fc from 'fast-check';
import request from 'supertest';
import { describe, expect, it } from 'vitest';
import { saveOfferSettings } from '../../server/offers/queries.ts';
import { listRequests, requestLimits } from '../../server/offers/queries-requests.ts';
import {
  allocations,
  customers,
  mails,
  orderLines,
  orderRequests,
  orders,
} from '../../server/schema/tables.ts';
import { readyRange, spareShown } from '../../shared/offers/offer.ts';
import { readRequest } from '../../shared/offers/request-form.ts';
import { makeRequest } from '../support/offers.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makePlace, makeSpecies, makeStock } from '../support/stock.ts';
import { type TestApp, testApp, testNow } from '../support/test-app.ts';

const duo = { groupAdults: 10, groupJuveniles: 2, groupExtras: 2 };

describe('what strangers are told to be spare', () => {
  const stock = fc.record({
    promisable: fc.integer({ min: 0, max: 300 }),
    promised: fc.integer({ min: 0, max: 300 }),
    spareGroups: fc.integer({ min: 0, max: 20 }),
  });

  it('is never more than is spare, nor more than the owner lets show', () => {
    fc.assert(
      fc.property(fc.array(stock, { maxLength: 6 }), fc.integer({ min: 1, max: 9 }), (all, most) => {
        const told = spareShown(all, duo, most);
        const groups = told.kind === 'some' ? told.groups : told.kind === 'more' ? told.than + 1 : 0;
        const animals = all.reduce((sum, one) => sum + Math.max(0, one.promisable - one.promised), 0);
        expect(groups * 14).toBeLessThanOrEqual(animals);
        expect(groups).toBeLessThanOrEqual(all.reduce((sum, one) => sum + one.spareGroups, 0));
        expect(groups).toBeLessThanOrEqual(most + 1);
      }),
    );
    expect(spareShown([{ promisable: 40, promised: 14, spareGroups: 2 }], duo, 5)).toEqual({
      kind: 'some',
      groups: 1,
    });
    const many = { promisable: 140, promised: 0, spareGroups: 10 };
    expect(spareShown([many], duo, 5)).toEqual({ kind: 'more', than: 5 });
    expect(spareShown([many], duo, 10)).toEqual({ kind: 'some', groups: 10 });
  });

  it('is ready within the week of the first forecast that has a group', () => {
    const today = '2026-11-25';
    expect(readyRange(['2026-12-14', null, '2026-12-21'], today)).toEqual({
      from: '2026-12-08',
      to: '2026-12-14',
    });
    expect(readyRange(['2026-11-27'], today)).toEqual({ from: '2026-11-26', to: '2026-11-27' });
    expect(readyRange(['2026-11-25', '2026-01-01', null], today)).toBeNull();
  });
});

const on = { isOn: true, mayBeFound: false, takesRequests: true, mostShown: 5 };
type Fields = Record<string, string>;

async function shop(env: NodeJS.ProcessEnv = {}) {
  const t = await testApp(env);
  saveOfferSettings(t.db, on);
  const kind = makeSpecies(t.db, { scientificName: 'Exemplum rarum', commonName: 'rare <b>example</b>' });
  const secret = makePlace(t.db, { name: 'Secret shelf' });
  makeStock(t.db, kind.id, {}, { code: 'HIDDEN-1', placeId: secret.id, note: 'dear note' });
  const good: Fields = {
    formKey: 'form-0123456789abcdef',
    name: 'Rita Reader',
    email: 'rita@example.org',
    country: 'DE',
    [`groups-${kind.id}`]: '2',
  };
  return { ...t, kind, good };
}

const look = ({ app }: Pick<TestApp, 'app'>, path = '/available') => request(app.server).get(path);
const ask = ({ app }: Pick<TestApp, 'app'>, fields: Fields, headers: Fields = {}) =>
  request(app.server).post('/available').type('form').set(headers).send(fields);
const kept = ({ db }: Pick<TestApp, 'db'>) => db.select().from(orderRequests).all();

describe('the public list', () => {
  it('is not there until the owner turns it on', async () => {
    const t = await shop();
    saveOfferSettings(t.db, { ...on, isOn: false });
    expect((await look(t)).status).toBe(404);
    expect((await ask(t, t.good)).status).toBe(404);
    saveOfferSettings(t.db, { ...on, takesRequests: false });
    expect((await look(t)).text.includes('<form')).toBe(false);
    expect((await ask(t, t.good)).status).toBe(404);
    expect(kept(t)).toEqual([]);
    await t.owner.save('/offers', { isOn: 'yes', mostShown: 1 });
    expect((await look(t)).text.includes('more than 1 group')).toBe(true);
    expect((await t.helper.post('/offers', { isOn: 'yes', mostShown: 1 })).status).toBe(403);
    expect((await t.owner.post('/offers', { isOn: 'yes', mostShown: 0 })).status).toBe(422);
  });

  it('shows what it may show and nothing else, in three languages, without a cookie', async () => {
    const t = await shop();
    const other = makeSpecies(t.db, { scientificName: 'Exemplum tardum' });
    makeStock(t.db, other.id, { spareGroups: 0, promisable: 0, spareAnimals: 0 }, { code: 'HIDDEN-2' });
    const unsold = makeSpecies(t.db, { scientificName: 'Exemplum privatum', sellable: false });
    makeStock(t.db, unsold.id);
    makeOrder(t.db, { customerId: makeCustomer(t.db, { name: 'Known Buyer' }).id });
    const { text, headers } = await look(t);
    const rows = [...text.matchAll(/<tr role="row">(.*?)<\/tr>/gs)].map(([, row = '']) =>
      [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map(([, cell = '']) => cell.replace(/<[^>]+>/g, '')),
    );
    expect(rows.slice(1)).toEqual([
      ['Exemplum rarum rare &lt;b>example&lt;/b>', '10 adults, 2 juveniles', '€12.50', '2 groups'],
      [
        `Exemplum tardum ${other.commonName}`,
        '10 adults, 2 juveniles',
        '€12.50',
        'none now, likely ready between Tue 8 Dec 2026 and Mon 14 Dec 2026',
      ],
    ]);
    for (const hidden of ['HIDDEN', 'Secret', 'dear note', 'Known Buyer', 'privatum'])
      expect(text.includes(hidden), hidden).toBe(false);
    expect(headers['set-cookie']).toBeUndefined();
    expect(headers['x-robots-tag']).toContain('noindex');
    for (const [language, words] of [
      ['de', 'Jetzt abzugeben'],
      ['es', 'Disponible ahora'],
    ] as const) {
      const there = (await look(t, `/available?lang=${language}`)).text;
      expect([there.includes(`<html lang="${language}"`), there.includes(words)]).toEqual([true, true]);
    }
    saveOfferSettings(t.db, { ...on, mayBeFound: true });
    const found = await look(t);
    expect([found.headers['x-robots-tag'], found.text.includes('noindex')]).toEqual(['all', false]);
    await t.owner.post(`/offers/species/${t.kind.id}`, { listed: 'no' });
    expect((await look(t)).text.includes('rarum')).toBe(false);
  });

  it('is given out as text and as a PDF', async () => {
    const t = await shop();
    const page = (await t.owner.get('/offers')).text;
    expect(page).toContain(
      'Exemplum rarum (rare &lt;b>example&lt;/b>): 10 adults, 2 juveniles, €12.50; 2 groups',
    );
    const { type, body } = await t.owner.bytes('/offers/list.pdf?lang=de');
    expect([type, body.subarray(0, 5).toString()]).toEqual(['application/pdf', '%PDF-']);
    expect((await t.helper.get('/offers')).status).toBe(403);
  });
});

describe('a request', () => {
  it('waits for the owner, reserves nothing, tells the owner and nobody else, and is one however often it is sent', async () => {
    const t = await shop({ SMTP_HOST: '127.0.0.1', SMTP_ENCRYPTION: 'none', MAIL_FROM: 'bench@example.org' });
    for (let i = 0; i < 2; i += 1) {
      const { status, headers } = await ask(t, t.good);
      expect([status, headers.location]).toEqual([303, '/available?lang=en&sent=yes']);
    }
    expect(kept(t)).toHaveLength(1);
    expect((await look(t, '/available?sent=yes')).text.includes('has arrived')).toBe(true);
    expect([t.db.select().from(orders).all(), t.db.select().from(customers).all()]).toEqual([[], []]);
    expect(t.db.select().from(allocations).all()).toEqual([]);
    // Nobody knows whose address a stranger typed: nothing of theirs goes anywhere.
    const [told, ...more] = t.db.select().from(mails).all();
    expect([told?.kind, told?.toAddress, more.length]).toEqual(['requests', 'bench@example.org', 0]);
    expect(told?.plain).toContain('1 request waits for your answer');
    expect(JSON.stringify(told)).not.toMatch(/rita/i);
    expect((await t.owner.get('/orders')).text.includes('1 request from the public list')).toBe(true);
  });

  it('becomes a draft for a new customer, or for one who looks the same, once', async () => {
    const t = await shop();
    makeRequest(t.db, t.kind.id, { note: 'for a school' });
    makeRequest(t.db, t.kind.id, { email: 'CARLA@example.org' });
    const first = await t.owner.post('/requests/1/take');
    expect(first.headers.location).toBe('/orders/1');
    expect(t.db.select().from(orders).get()).toMatchObject({
      state: 'draft',
      language: 'de',
      note: 'for a school',
    });
    expect(t.db.select().from(orderLines).get()).toMatchObject({
      groups: 2,
      priceMinor: 1250,
      groupAdults: 10,
    });
    expect(t.db.select().from(customers).get()).toMatchObject({ name: 'Rita Reader', country: 'DE' });
    expect((await t.owner.post('/requests/1/take')).status).toBe(409);
    const carla = makeCustomer(t.db);
    expect((await t.owner.get('/requests/2')).text.includes('Take it for Carla Customer')).toBe(true);
    expect((await t.owner.post('/requests/2/take', { customer: 99 })).status).toBe(409);
    await t.owner.post('/requests/2/take', { customer: carla.id });
    expect(t.db.select().from(orders).all().at(-1)?.customerId).toBe(carla.id);
    expect(t.db.select().from(customers).all()).toHaveLength(2);
  });

  it('can be refused, taken up again, and its writer forgotten', async () => {
    const t = await shop();
    makeRequest(t.db, t.kind.id);
    expect((await t.owner.post('/requests/1/forget')).status).toBe(409);
    await t.owner.post('/requests/1/refuse');
    await t.owner.post('/requests/1/reopen');
    expect(kept(t)[0]?.state).toBe('new');
    await t.owner.post('/requests/1/refuse');
    await t.owner.post('/requests/1/forget');
    expect(kept(t)[0]).toMatchObject({ state: 'refused', name: '', email: '', city: '', note: '' });
    expect((await t.owner.get('/requests')).text.includes('person erased')).toBe(true);
  });

  it('comes back when it is wrong, with what was typed, in words of the language, and runs no script', async () => {
    const t = await shop();
    const script = '<script>alert(1)</script>';
    const all = ['name', 'email', 'street', 'postcode', 'city', 'region', 'country', 'note'];
    const typed = Object.fromEntries(all.map((name) => [name, script]));
    const answer = await ask(t, { ...typed, formKey: t.good.formKey ?? '', [`groups-${t.kind.id}`]: script });
    expect([answer.status, answer.text.includes('<script>')]).toEqual([422, false]);
    expect(answer.text.includes('Choose a country from the list.')).toBe(true);
    await ask(t, { ...t.good, name: script, note: script, city: script, street: script });
    const [row] = listRequests(t.db, 5);
    expect(row?.name).toBe(script);
    for (const path of ['/requests', `/requests/${row?.id}`, '/orders']) {
      expect((await t.owner.get(path)).text.includes('<script>alert'), path).toBe(false);
    }
  });

  it('takes nothing forged', async () => {
    const t = await shop();
    const hidden = makeSpecies(t.db, { sellable: false });
    const read = readRequest(
      (name) => ({ ...t.good, [`groups-${hidden.id}`]: '3' })[name] ?? '',
      [t.kind.id],
    );
    expect(read.request.wanted).toEqual([{ speciesId: t.kind.id, groups: 2 }]);
    for (const groups of ['-1', '1.5', '21', '1e1', 'NaN', '９'])
      expect(
        readRequest((name) => (name.startsWith('groups') ? groups : (t.good[name] ?? '')), [1]).faults.get(
          'groups-1',
        ),
      ).toBe('groups');
    expect((await ask(t, t.good, { Origin: 'https://elsewhere.example.org' })).status).toBe(403);
    expect((await ask(t, t.good, { 'Sec-Fetch-Site': 'cross-site' })).status).toBe(403);
    expect((await ask(t, t.good, { Origin: 'null' })).status).toBe(403);
    // A page that tells nobody its address would have browsers say null of its own form.
    const list = await t.outsider.get('/available');
    expect([list.headers['referrer-policy'], list.text.includes('no-referrer')]).toEqual([
      'same-origin',
      false,
    ]);
    expect((await ask(t, { ...t.good, formKey: 'short' })).status).toBe(400);
    const more = { state: 'taken', orderId: '1', id: '77', priceMinor: '1', __proto__: 'x', prices: '0' };
    expect((await ask(t, { ...t.good, ...more })).status).toBe(303);
    expect(kept(t)[0]).toMatchObject({ id: 1, state: 'new', orderId: null });
  });

  it('is taken a few times from one place, and so often an hour from all; none is lost in a crowd', async () => {
    const mail = { SMTP_HOST: '127.0.0.1', SMTP_ENCRYPTION: 'none' };
    const t = await shop({ TRUSTED_PROXIES: '127.0.0.1', ...mail });
    const from = (n: number, i = n) =>
      ask(t, { ...t.good, formKey: `form-of-the-crowd-${i}` }, { 'X-Forwarded-For': `203.0.113.${n}` });
    const crowd = await Promise.all(Array.from({ length: 64 }, (_, i) => from(i + 1)));
    const statuses = crowd.map(({ status }) => status).sort();
    expect(statuses.filter((status) => status === 303)).toHaveLength(requestLimits.anHour);
    expect(statuses.filter((status) => status === 429)).toHaveLength(64 - requestLimits.anHour);
    expect(kept(t)).toHaveLength(requestLimits.anHour);
    expect(t.db.select().from(mails).all()).toHaveLength(1);
    t.clock.forward(1);
    const greedy = [];
    for (let i = 0; i < 8; i += 1) greedy.push((await from(200, 100 + i)).status);
    expect(greedy).toEqual([303, 303, 303, 303, 303, 303, 429, 429]);
  });

  it('is not kept when too many wait unanswered', async () => {
    const t = await shop();
    const line = {
      formKey: 'x',
      state: 'new',
      ...{ street: '', postcode: '', city: '', region: '', note: '' },
    } as const;
    const old = {
      name: 'R',
      email: 'r@example.org',
      country: 'DE',
      language: 'en',
      currency: 'EUR',
    } as const;
    for (let i = 0; i < requestLimits.waiting; i += 1)
      t.db
        .insert(orderRequests)
        .values({ ...line, ...old, formKey: `form-that-waits-${i}`, madeAt: testNow - 90_000_000 })
        .run();
    expect((await ask(t, t.good)).status).toBe(429);
    t.db.delete(orderRequests).where(eq(orderRequests.id, 1)).run();
    expect((await ask(t, t.good)).status).toBe(303);
  });

  it('makes a draft even of what is no longer spare: it was only asked for', async () => {
    const t = await shop();
    const order = makeOrder(t.db);
    makeLine(t.db, order.id, t.kind.id);
    const wanted = [{ speciesId: t.kind.id, groups: 20 }];
    makeRequest(t.db, t.kind.id, { wanted });
    expect((await t.owner.post('/requests/1/take')).status).toBe(303);
    expect(t.db.select().from(allocations).all()).toEqual([]);
  });
});
