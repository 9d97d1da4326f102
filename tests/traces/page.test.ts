import { describe, expect, it } from 'vitest';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { allContacts, writeContact } from '../../server/traces/queries-contacts.ts';
import { trace } from '../../shared/lines/trace.ts';
import { formatDay } from '../../views/layout/format.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { randomFrom } from '../support/random.ts';
import { makeCulture, makeStock } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';
import { manyCultures, plainReach, plainSources, randomContacts } from './random-contacts.ts';

const by = { madeBy: cast.owner.id, madeAt: testNow };
const script = '<script>alert(1)</script>';

/** Mites in A, fed to B, from there a tool to C, and animals of C in an order; D gave old substrate before. */
async function bench() {
  const app = await testApp();
  const { db } = app;
  const ids = Object.fromEntries(['A', 'B', 'C', 'D'].map((code) => [code, makeCulture(db, { code }).id]));
  const { A, B, C, D } = ids as Record<'A' | 'B' | 'C' | 'D', number>;
  const entry = (cultureId: number, onDay: string, fields: Partial<Parameters<typeof appendEntry>[1]>) =>
    appendEntry(db, { ...by, via: 'page', kind: 'check', cultureId, onDay, ...fields });
  const customerId = makeCustomer(db, { name: 'Carla Customer' }).id;
  const order = makeOrder(db, { number: 31, customerId, state: 'sent' });
  writeContact(db, { onDay: '2026-10-20', fromId: D, toId: A, kind: 'seeding', note: script }, by);
  entry(A, '2026-11-01', { mitesSeen: false, mouldSeen: false });
  entry(B, '2026-11-05', { kind: 'feed', food: script, otherCultureId: A });
  writeContact(db, { onDay: '2026-11-06', fromId: B, toId: C, kind: 'shared tool' }, by);
  entry(C, '2026-11-08', { kind: 'harvest', animals: 14, orderId: order.id });
  entry(A, '2026-11-10', { kind: 'mites', note: script });
  return { ...app, A, B, C, D, order, entry };
}

/** The codes of one of the page's tables, with the day of each. */
function rowsOf(text: string, caption: string): string[] {
  const [, table = ''] =
    new RegExp(`<caption class="visually-hidden">${caption}</caption>([\\s\\S]*?)</table>`).exec(text) ?? [];
  return [
    ...table.matchAll(
      /href="\/cultures\/([^"]+)"[\s\S]*?data-label="(?:First|Last) on"><span class="nowrap">([^<]+)</g,
    ),
  ].map(([, code, day]) => `${code} ${day}`);
}
const gone = (text: string) => rowsOf(text, 'Cultures that can have been reached');
const came = (text: string) => rowsOf(text, 'Cultures that can have passed it on');

describe('the page of a trace', () => {
  it('says at once who had contact since the last clear check, on which way, and where it may come from', async () => {
    const { owner } = await bench();
    const { status, text } = await owner.get('/cultures/A/trace');
    expect(status).toBe(200);
    expect(text).toContain(
      'By the diary mites were seen first on 10 Nov 2026; the check of 1 Nov 2026 was still clear.',
    );
    expect(text).toContain(
      '2 cultures and 1 order can have got it from <span class="nowrap">A</span> since 1 Nov 2026.',
    );
    expect(gone(text)).toEqual(['A 1 Nov', 'B 5 Nov', 'C 6 Nov']);
    expect(text).toContain('fed to B on 5 Nov; then same tools at C on 6 Nov');
    expect(came(text)).toEqual(['D 20 Oct']);
    expect(text).toContain('old substrate to A on 20 Oct');
    expect(text).toContain('href="/orders/31">Order 31</a>');
    expect(text).toContain('14 animals of ');
    expect(text.includes('<script>alert')).toBe(false);
  });

  it('looks for where it came from until the day it was seen, also after the last clear check', async () => {
    const { owner, db, A, C } = await bench();
    writeContact(db, { onDay: '2026-11-09', fromId: C, toId: A, kind: 'shared tool' }, by);
    const { text } = await owner.get('/cultures/A/trace');
    expect(came(text)).toEqual(['C 9 Nov', 'B 6 Nov', 'D 20 Oct']);
    const earlier = await owner.get('/cultures/A/trace?seen=2026-11-07&since=2026-11-06');
    expect([gone(earlier.text), came(earlier.text)]).toEqual([['A 6 Nov'], ['D 20 Oct']]);
  });

  it('takes its days from the address, looks back as far as is asked, and lists in walking order', async () => {
    const { owner, db, A } = await bench();
    const far = makeCulture(db, { code: 'FAR', placeId: null });
    writeContact(db, { onDay: '2026-02-01', fromId: far.id, toId: A, kind: 'feeders' }, by);
    const asked = await owner.get('/cultures/A/trace?since=2026-11-06&what=mites');
    expect(gone(asked.text)).toEqual(['A 6 Nov']);
    const whole = await owner.get('/cultures/A/trace?back=all&sort=place');
    expect(came(whole.text)).toEqual(['D 20 Oct', 'FAR 1 Feb']);
    expect((await owner.get('/cultures/A/trace?back=nonsense&what=nonsense&sort=x')).status).toBe(200);
    expect(whole.text).toContain(
      'href="/cultures/A/trace?what=mites&amp;since=2026-11-01&amp;seen=2026-11-10&amp;back=all"',
    );
  });

  it('refuses days that cannot be, in words beside the field, and keeps what was typed', async () => {
    const { owner } = await bench();
    for (const [query, words] of [
      ['since=2026-11-26', 'That day is still to come.'],
      ['seen=2026-12-01', 'That day is still to come.'],
      ['since=2026-01-09', 'A was founded only on 10 Jan 2026.'],
      ['since=2026-02-30', 'Write a day of the calendar'],
      [`since=${encodeURIComponent(script)}`, 'Write a day of the calendar'],
      ['since=2026-11-20&seen=2026-11-19', 'This is after the day on which it was seen.'],
    ] as const) {
      const { status, text } = await owner.get(`/cultures/A/trace?${query}`);
      expect([query, status, text.includes(words)]).toEqual([query, 422, true]);
      expect(text.includes('Cultures that can have been reached')).toBe(false);
      expect(text.includes('<script>alert')).toBe(false);
    }
  });

  it('is for whoever is signed in, of cultures that are there', async () => {
    const { outsider, helper, app } = await bench();
    const path = '/cultures/A/trace';
    expect((await outsider.get(path)).headers.location).toBe(`/sign-in?next=${encodeURIComponent(path)}`);
    for (const code of ['NO-1', '-1', '%00', encodeURIComponent("' OR 1=1 --")])
      expect((await helper.get(`/cultures/${code}/trace`)).status, code).toBe(404);
    expect((await app.inject({ method: 'DELETE', url: path })).statusCode).toBe(404);
  });

  it('shows a helper no customer, no boxes and no step for many', async () => {
    const { helper, owner, db, B } = await bench();
    const order = makeOrder(db, {
      number: 32,
      state: 'draft',
      customerId: makeCustomer(db, { name: 'Rita Reserved' }).id,
    });
    const line = makeLine(db, order.id, 1);
    db.run(
      `INSERT INTO allocations (order_line_id, culture_id, groups, animals, state, override_reason, made_at) VALUES (${line.id}, ${B}, 1, 14, 'reserved', 'because', 1)`,
    );
    const seen = await owner.get('/cultures/A/trace');
    for (const words of [
      'Carla Customer',
      'Rita Reserved',
      'name="chosen"',
      '/trace/quarantine',
      '/trace/notices',
    ])
      expect(seen.text.includes(words), words).toBe(true);
    const { status, text } = await helper.get('/cultures/A/trace');
    expect([status, gone(text)]).toEqual([200, ['A 1 Nov', 'B 5 Nov', 'C 6 Nov']]);
    expect(text).toContain('href="/orders/31">Order 31</a>');
    for (const words of [
      'Carla Customer',
      'Rita Reserved',
      'name="chosen"',
      '/trace/quarantine',
      '/trace/notices',
    ])
      expect(text.includes(words), words).toBe(false);
    for (const [method, path] of [
      ['get', '/cultures/A/trace/notices'],
      ['post', '/cultures/A/trace/notices'],
      ['post', '/cultures/A/trace/quarantine'],
      ['post', '/cultures/A/trace/undo'],
    ] as const)
      expect((await helper[method](path)).status).toBe(403);
  });

  it('says so where nothing is known', async () => {
    const { helper, db } = await testApp();
    makeStock(db, makeCulture(db).speciesId, {}, { code: 'LONE' });
    const { text } = await helper.get('/cultures/LONE/trace');
    expect(text).toContain(
      'nothing has gone to another culture or an order from <span class="nowrap">LONE</span> since 10 Jan 2026.',
    );
    expect(text).toContain('The diary does not say that mites were seen here');
    expect(text).toContain('No culture had contact with LONE in that time');
  });

  it('is linked from the culture, from the notice after mites, and from the round', async () => {
    const { helper } = await bench();
    expect((await helper.get('/cultures/A')).text).toContain('href="/cultures/A/trace"');
    expect((await helper.get('/round')).text).not.toContain('href="/cultures/B/trace"');
    for (const kind of ['mites', 'mould', 'die-off']) {
      await helper.post('/cultures/B/write', { kind, lost: '30' });
      const { text } = await helper.get('/cultures/B');
      expect(text).toContain(`<a href="/cultures/B/trace?what=${kind}">Who had contact with it</a>`);
    }
    await helper.post('/cultures/C/check?from=round', { mitesSeen: 'yes' });
    const { text } = await helper.get('/round');
    expect(text).toContain('<a href="/cultures/C/trace?what=mites">Who had contact with it</a>');
    expect(text).toContain('<a href="/cultures/B/trace?what=mites">Who had contact</a>');
  });
});

describe('on random contacts of the database', () => {
  it.each([1, 2, 3])('the page shows what the calculation and a plain reference find (%i)', async (seed) => {
    const app: TestApp = await testApp();
    const meant = randomContacts(app.db, randomFrom(seed), manyCultures(app.db, 14), 110, 40);
    const [since, seen] = ['2026-11-01', '2026-11-12'];
    const say = (iso: string) => formatDay(iso, 'en-GB', 'month-day');
    const { text } = await app.owner.get(`/cultures/K0/trace?since=${since}&seen=${seen}&back=all`);
    const calculated = trace({ contacts: allContacts(app.db), flagged: { code: 'K0', since } });
    const backward = trace({ contacts: allContacts(app.db), flagged: { code: 'K0', since: seen } });
    expect(gone(text)).toEqual([
      `K0 ${say(since)}`,
      ...calculated.downstream.map(({ code, earliest }) => `${code} ${say(earliest)}`),
    ]);
    expect(came(text)).toEqual(backward.upstream.map(({ code, latest }) => `${code} ${say(latest)}`));
    const reached = plainReach(meant, 'K0', since);
    const cultures = [...reached].filter(([key]) => !key.startsWith('order '));
    expect(gone(text).slice(1).sort()).toEqual(cultures.map(([code, day]) => `${code} ${say(day)}`).sort());
    const orders = [...reached.keys()].filter((key) => key.startsWith('order ')).map((key) => key.slice(6));
    const shown = [
      ...text.matchAll(/scope="row" role="rowheader"><a class="nowrap" href="\/orders\/(\d+)">/g),
    ].map(([, n]) => n);
    expect(shown.sort()).toEqual(orders.sort());
    const sources = plainSources(meant, 'K0', seen);
    expect(came(text).sort()).toEqual([...sources].map(([code, day]) => `${code} ${say(day)}`).sort());
    expect(cultures.length + orders.length + sources.size).toBeGreaterThan(5);
  });
});
