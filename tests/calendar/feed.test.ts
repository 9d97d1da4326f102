import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { calendarFeeds, people } from '../../server/schema/tables.ts';
import { saveBusiness } from '../../server/settings/queries.ts';
import { groupWork } from '../../shared/calendar/group-work.ts';
import { makeOrder } from '../support/orders.ts';
import { makeCulture, makeEstimate, makePlace, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

/** The address on this host as the page shows it once. */
async function addressOf(t: TestApp, who: 'owner' | 'helper' = 'helper'): Promise<string> {
  const { status, text } = await t[who].post('/account/calendar');
  expect(status).toBe(200);
  return new URL(/value="(http[^"]+\.ics)"/.exec(text)?.[1] ?? '').pathname;
}

/** Read by another library than the one that wrote it. */
function read(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text) as string | unknown[]);
  return calendar.getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));
}

const shown = (event: ICAL.Event) => `${event.startDate.toString()} ${event.summary}`;

async function bench() {
  const t = await testApp();
  const room = makePlace(t.db, { kind: 'room', name: 'Cellar; left, under the stairs', fullName: 'Cellar' });
  const shelf = makePlace(t.db, { parentId: room.id });
  const speciesId = makeSpecies(t.db, { scientificName: 'Exemplum longum' }).id;
  const culture = makeCulture(t.db, {
    code: 'EX-Ä1',
    morph: 'gold, "dusk"; from Ödön\\hill\nsecond row',
    placeId: shelf.id,
    speciesId,
  });
  makeEstimate(t.db, culture.id, { lastCheckOn: '2026-11-20', lastCountOn: '2026-11-24' });
  const base = { cultureId: culture.id, via: 'page', madeAt: testNow } as const;
  appendEntry(t.db, { ...base, onDay: '2026-11-17', kind: 'feed', food: 'leaves' });
  return { t, culture, address: await addressOf(t) };
}

describe('a calendar', () => {
  it('holds what is due by day and room, what is planned, and packing days without names', async () => {
    const { t, culture, address } = await bench();
    const other = makeCulture(t.db, { placeId: culture.placeId, speciesId: culture.speciesId, code: 'EX-B' });
    makeEstimate(t.db, other.id, { lastCheckOn: '2026-11-20', lastCountOn: '2026-11-24' });
    for (const state of ['draft', 'confirmed', 'sent'] as const)
      makeOrder(t.db, { dispatchOn: '2026-12-01', state });
    const planned = { what: 'split', onDay: '2026-11-30', enclosureId: culture.enclosureId, enclosures: 1 };
    await t.helper.post(`/cultures/${encodeURIComponent(culture.code)}/plan`, planned);
    const { text, headers } = await t.outsider.get(address);
    expect(headers['content-type']).toBe('text/calendar; charset=utf-8');
    const events = read(text);
    expect(events.map(shown)).toEqual([
      '2026-11-25 1 to feed',
      '2026-11-27 2 to look at',
      '2026-11-30 Split EX-Ä1',
      '2026-12-01 Packing day: 2 orders',
    ]);
    expect(events[0]?.location).toBe('Cellar; left, under the stairs');
    expect(events[1]?.description).toBe('To look at: EX-B, EX-Ä1');
    expect(events[3]?.description).toBe('1 confirmed\n1 still to be confirmed');
    expect(text).not.toContain('Customer');
  });

  it('is written as RFC 5545 wants it', async () => {
    const { t, culture, address } = await bench();
    const planned = { what: 'split', onDay: '2026-11-30', enclosureId: culture.enclosureId, enclosures: 1 };
    await t.helper.post(`/cultures/${encodeURIComponent(culture.code)}/plan`, planned);
    const { text } = await t.outsider.get(address);
    // RFC 5545, 3.1: lines end in CRLF and are folded so that none is longer than 75 octets
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(text.endsWith('END:VCALENDAR\r\n') || text.endsWith('END:VCALENDAR')).toBe(true);
    const lines = text.split('\r\n');
    expect(Math.max(...lines.map((line) => Buffer.byteLength(line)))).toBeLessThanOrEqual(75);
    expect(lines.some((line) => line.startsWith(' '))).toBe(true);
    // 3.3.11: backslash, semicolon, comma and line break of a text are escaped
    const unfolded = text.replaceAll('\r\n ', '');
    expect(unfolded).toContain('gold\\, "dusk"\\; from Ödön\\\\hill\\nsecond row');
    expect(read(text).at(-1)?.description).toBe(
      'Exemplum longum, gold, "dusk"; from Ödön\\hill\nsecond row\nInto 1 × ' +
        /Into 1 × (Box \d+)/.exec(unfolded)?.[1],
    );
    for (const event of read(text)) {
      // 3.6.1: an all-day event is of dates, and its end is the day it does not hold any more
      expect([event.startDate.isDate, event.endDate.isDate]).toEqual([true, true]);
      expect(event.endDate.subtractDate(event.startDate).toSeconds()).toBe(86_400);
      // 3.8.4.7, 3.8.7.2: a name of its own and a time stamp in UTC
      expect(event.uid).toMatch(/^[\w-]+@\w+\.broodbench$/);
      const stamp = event.component.getFirstPropertyValue('dtstamp') as ICAL.Time;
      expect(stamp.toJSDate().getTime()).toBe(testNow);
      expect(event.component.getFirstPropertyValue('last-modified')?.toString()).toBe(stamp.toString());
    }
    const uids = read(text).map(({ uid }) => uid);
    expect(new Set(uids).size).toBe(uids.length);
    expect(read((await t.outsider.get(address)).text).map(({ uid }) => uid)).toEqual(uids);
  });

  it('says its name without letting it break the calendar', async () => {
    const { t, address } = await bench();
    const name = 'Moss, Bark; Co\r\nEND:VCALENDAR';
    t.sqlite.prepare('UPDATE business SET name = ?').run(name);
    const { text } = await t.outsider.get(address);
    const calendar = new ICAL.Component(ICAL.parse(text) as string | unknown[]);
    // The reader leaves a property it does not know as it is written: escaped, on one line.
    expect(calendar.getFirstPropertyValue('x-wr-calname')).toBe('Moss\\, Bark\\; Co END:VCALENDAR');
    expect(calendar.getAllSubcomponents('vevent').length).toBeGreaterThan(0);
  });

  it('begins its days where the business is', async () => {
    const { t, address } = await bench();
    // 23:30 UTC on the 25th is the 26th in Berlin
    t.clock.at = Date.UTC(2026, 10, 25, 23, 30);
    expect(read((await t.outsider.get(address)).text).map(shown)[0]).toBe('2026-11-26 1 to feed');
    saveBusiness(t.db, west, testNow);
    expect(read((await t.outsider.get(address)).text).map(shown)[0]).toBe('2026-11-25 1 to feed');
  });
  const west = {
    name: 'Test Bench',
    address: '',
    email: 'bench@example.org',
    country: 'US',
    timeZone: 'America/New_York',
    currency: 'USD',
    locale: 'en-US',
    units: 'us',
    paper: 'Letter',
    language: 'en',
  } as const;
});

describe('the address of a calendar', () => {
  const stored = (t: TestApp) => t.db.select().from(calendarFeeds).all();

  it('is shown once, kept as a hash, and stops when a new one is made or it is stopped', async () => {
    const { t, address } = await bench();
    const token = address.slice('/calendar/'.length, -'.ics'.length);
    expect(token).toMatch(/^[\w-]{43}$/);
    expect(JSON.stringify(stored(t))).not.toContain(token);
    expect((await t.helper.get('/account')).text).not.toContain(token);
    const formKey = 'calendar-0123456789';
    const again = await t.helper.post('/account/calendar', {}, { formKey });
    const twice = await t.helper.post('/account/calendar', {}, { formKey });
    const renewed = new URL(/value="(http[^"]+\.ics)"/.exec(again.text)?.[1] ?? '').pathname;
    expect(twice.text).toContain(renewed);
    expect((await t.outsider.get(address)).status).toBe(404);
    expect((await t.outsider.get(renewed)).status).toBe(200);
    await t.helper.post('/account/calendar/stop');
    expect((await t.outsider.get(renewed)).status).toBe(404);
    expect((await t.helper.post('/account/calendar', {}, { formKey })).text).toContain('was shown once');
    expect(stored(t).every(({ endedAt }) => endedAt !== null)).toBe(true);
  });

  it('that opens nothing is not there, as anything else', async () => {
    const t = await testApp();
    const nowhere = await t.outsider.get('/nowhere');
    for (const wrong of [`${'a'.repeat(43)}`, 'short', `${'a'.repeat(42)}%00`]) {
      const answer = await t.outsider.get(`/calendar/${wrong}.ics`);
      expect([answer.status, answer.headers['content-type']]).toEqual([404, nowhere.headers['content-type']]);
    }
  });

  it('is one for each person and dies with the account', async () => {
    const { t, address } = await bench();
    const owners = await addressOf(t, 'owner');
    expect(stored(t)).toHaveLength(2);
    t.db.update(people).set({ active: false }).run();
    expect((await t.outsider.get(address)).status).toBe(404);
    t.db.update(people).set({ active: true }).run();
    await t.owner.post(`/people/${cast.helper.id}/deactivate`);
    await t.owner.post(`/people/${cast.helper.id}/activate`);
    expect((await t.outsider.get(address)).status).toBe(404);
    expect((await t.outsider.get(owners)).status).toBe(200);
  });

  it('says when it was last asked for, and answers 304 while nothing has changed', async () => {
    const { t, culture, address } = await bench();
    expect((await t.helper.get('/account')).text).toContain('was never asked for');
    const first = await t.outsider.get(address);
    expect(first.headers['cache-control']).toBe('private, no-cache');
    expect(stored(t)[0]?.usedAt).toBe(testNow);
    expect((await t.helper.get('/account')).text).toContain('last asked for');
    const { etag = '' } = first.headers;
    t.clock.at += 60_000;
    const same = await t.outsider.get(address, { 'If-None-Match': etag });
    expect([same.status, same.text, stored(t)[0]?.usedAt]).toEqual([304, '', testNow]);
    await t.helper.post(`/cultures/${encodeURIComponent(culture.code)}/all-well`, { did: 'yes' });
    expect((await t.outsider.get(address, { 'If-None-Match': etag })).status).toBe(200);
  });

  it('is asked for a few times a minute, no more, and knows no session', async () => {
    const { t, address } = await bench();
    const statuses = [];
    for (let i = 0; i < 22; i += 1) statuses.push((await t.outsider.get(address)).status);
    expect(statuses.filter((status) => status === 200)).toHaveLength(20);
    expect(statuses.at(-1)).toBe(429);
    t.clock.at += 61_000;
    expect((await t.outsider.get('/calendar/guess.ics')).status).toBe(404);
  });
});

describe('work by day and room', () => {
  it('is one entry for a day and a room, what stands nowhere last', () => {
    const room = { id: 1, name: 'Cellar' };
    const work = (what: 'feed' | 'check', code: string, where: typeof room | null, onDay = '2026-11-25') => ({
      onDay,
      what,
      code,
      room: where,
    });
    const grouped = groupWork([
      work('feed', 'A-3', null),
      work('feed', 'A-1', room),
      work('check', 'A-1', room),
      work('feed', 'A-2', room),
      work('feed', 'A-1', room, '2026-11-24'),
    ]);
    expect(grouped.map(({ onDay, room: where, kinds }) => [onDay, where?.name, kinds])).toEqual([
      ['2026-11-24', 'Cellar', [{ what: 'feed', codes: ['A-1'] }]],
      [
        '2026-11-25',
        'Cellar',
        [
          { what: 'check', codes: ['A-1'] },
          { what: 'feed', codes: ['A-1', 'A-2'] },
        ],
      ],
      ['2026-11-25', undefined, [{ what: 'feed', codes: ['A-3'] }]],
    ]);
  });
});
