import { eq } from 'drizzle-orm';
import sharp from 'sharp';
import request from 'supertest';
import { beforeEach, describe, expect, it } from 'vitest';
import { addressOfOrder, endLink, ensureLink, renewLink } from '../../server/arrivals/queries-links.ts';
import { reportsOf } from '../../server/arrivals/queries-reports.ts';
import { keepTrip } from '../../server/arrivals/queries-trips.ts';
import { choicesOf } from '../../server/parcels/queries-choices.ts';
import { orders } from '../../server/schema/tables.ts';
import { firstArrivalHabits, lastReportDay } from '../../shared/arrivals/habits.ts';
import { speakerFor } from '../../views/words/speaker.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { readyToPack, toPack } from '../support/packing-day.ts';
import { formsOn } from '../support/page-parts.ts';
import { makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

const by = { personId: cast.owner.id, now: testNow };
const formKey = 'form-0123456789abcdef';

let t: TestApp;
let order: ReturnType<typeof makeOrder>;
let speciesId: number;
let path: string;

type Row = Parameters<typeof makeOrder>[1];

/** An order of 14 animals that left yesterday, and the address of its page. */
function sentOrder(more: Row = {}) {
  const made = makeOrder(t.db, { state: 'sent', sentOn: '2026-11-24', note: 'pays late', ...more });
  makeLine(t.db, made.id, speciesId);
  ensureLink(t.db, made, by);
  return made;
}

const pathOf = (id: number) => addressOfOrder(t.db, id, { base: '', now: t.clock.now() }) ?? '';

beforeEach(async () => {
  t = await testApp();
  speciesId = makeSpecies(t.db, { scientificName: 'Exemplum dubium', commonName: 'doubtful example' }).id;
  order = sentOrder({ tracking: 'XY 12', trackingLink: 'https://carrier.example.org/12' });
  path = pathOf(order.id);
});

type Fields = Record<string, string>;
type Photo = { bytes: Buffer; name?: string };

/** As a browser sends the form: no cookie, no token but the address. */
function say(to: string, fields: Fields, photos: Photo[] = [], headers: Fields = {}) {
  const sent = request(t.app.server).post(to).set(headers);
  for (const [name, value] of Object.entries({ formKey, ...fields })) sent.field(name, value);
  for (const { bytes, name = 'a.jpg' } of photos) sent.attach('photo', bytes, name);
  return sent;
}

const photo = (shade = 90) =>
  sharp({ create: { width: 900, height: 700, channels: 3, background: { r: shade, g: 110, b: 60 } } })
    .withExif({ IFD0: { Artist: 'Somebody' } })
    .jpeg()
    .toBuffer();

const choiceOf = (id: number) => choicesOf(t.db, [id]).get(id);
const dayWords = (day: string) => speakerFor({ language: 'en', locale: 'en-GB' }).day(day);
const reports = (id = order.id) => reportsOf(t.db, id);

describe("the customer's page", () => {
  it('shows the order in plain words, sets no cookie and tells its address to nobody', async () => {
    const { status, text, headers } = await request(t.app.server).get(path);
    expect(status).toBe(200);
    expect(headers['set-cookie']).toBeUndefined();
    expect(headers['referrer-policy']).toBe('no-referrer');
    expect(headers['x-robots-tag']).toContain('noindex');
    expect(headers['cache-control']).toBe('no-store');
    expect(text).toContain('On its way since Tuesday 24 November 2026.');
    expect(text).toContain('XY 12');
    expect(text).toContain('href="https://carrier.example.org/12"');
    expect(text).toContain('doubtful example');
    expect(text).toContain('bench@example.org');
    expect(text).not.toMatch(/<script|pays late|Carla|EX-\d|12\.50/);
  });

  it('says when it should arrive and how warm it stays, once its way is decided', async () => {
    readyToPack(t.db, { lowC: () => 14 });
    const { order: made } = toPack(t.db);
    ensureLink(t.db, made, by);
    const at = pathOf(made.id);
    expect((await t.outsider.get(at)).text).not.toMatch(/should arrive|°C/);
    const day = await t.owner.get('/parcels/packing');
    const take = formsOn(day.text, '/parcels/packing').find(({ action }) => action.endsWith('/choose'));
    expect((await t.owner.post(take?.action ?? '', take?.untouched)).status).toBe(303);
    const choice = choiceOf(made.id);
    const { text } = await t.outsider.get(at);
    expect(text).toContain(`It should arrive on ${dayWords(choice?.arrivesOn ?? '')}`);
    const temp = (tempC = 0) => `${Math.round(tempC * 10) / 10}\u00a0°C`;
    expect(text).toContain(`it stays at ${temp(choice?.lowestC)} to ${temp(choice?.highestC)} in the box`);
    expect(text).not.toMatch(/Foam|3\.00|Example Post/);
    // It leaves on another day than was decided: what was worked out holds no longer.
    t.db.update(orders).set({ dispatchOn: '2026-12-02' }).where(eq(orders.id, made.id)).run();
    expect((await t.outsider.get(at)).text).not.toMatch(/should arrive|°C/);
  });

  it("is in the order's language, or else the customer's", async () => {
    const customer = makeCustomer(t.db, { language: 'de' });
    const german = pathOf(sentOrder({ customerId: customer.id }).id);
    expect((await t.outsider.get(german)).text).toContain('Unterwegs seit Dienstag, 24. November 2026.');
    const spanish = pathOf(sentOrder({ customerId: customer.id, language: 'es' }).id);
    expect((await t.outsider.get(spanish)).text).toContain('¿Cómo han llegado?');
  });

  it.each([
    ['draft', 'still putting your order together'],
    ['confirmed', 'The parcel is to leave on Monday 30 November 2026.'],
    ['packed', 'Your animals are packed.'],
    ['closed', 'It left us on Tuesday 24 November 2026.'],
    ['cancelled', 'This order was cancelled.'],
  ] as const)('says how a %s order stands', async (state, words) => {
    const other = sentOrder({ state, dispatchOn: '2026-11-30' });
    expect((await t.outsider.get(pathOf(other.id))).text).toContain(words);
  });

  it('opens with its own address alone: everything else is the same page that says nothing', async () => {
    const other = sentOrder();
    const token = path.slice(3);
    const nowhere = await request(t.app.server).get(`/o/${'a'.repeat(43)}`);
    expect([nowhere.status, nowhere.headers['set-cookie']]).toEqual([404, undefined]);
    // Each request has its own number.
    const said = (text: string) => text.replace(/[\da-f]{8}-[\da-f]{4}(?=<)/, '');
    const [own, foreign] = [
      Buffer.from(token, 'base64url'),
      Buffer.from(pathOf(other.id).slice(3), 'base64url'),
    ];
    const mixed = Buffer.concat([own.subarray(0, 16), foreign.subarray(16)]).toString('base64url');
    const later = Buffer.from(own);
    later.writeUInt32BE(later.readUInt32BE(4) + 86_400, 4);
    for (const wrong of ['x', mixed, later.toString('base64url'), `${token}A`, token.toLowerCase()]) {
      const answer = await request(t.app.server).get(`/o/${wrong}`);
      expect([answer.status, said(answer.text)]).toEqual([404, said(nowhere.text)]);
      expect((await say(`/o/${wrong}`, { all: 'well' })).status).toBe(404);
      const papers = await request(t.app.server).get(`/o/${wrong}/care-sheets.pdf`);
      expect(said(papers.text)).toBe(said(nowhere.text));
    }
    expect(reports()).toEqual([]);
  });

  it('ends when it is revoked, renewed or has run out', async () => {
    endLink(t.db, order.id, by);
    expect((await t.outsider.get(path)).status).toBe(404);
    renewLink(t.db, order, by);
    const second = pathOf(order.id);
    renewLink(t.db, order, by);
    expect((await t.outsider.get(second)).status).toBe(404);
    const third = pathOf(order.id);
    expect((await t.outsider.get(third)).status).toBe(200);
    t.clock.forward(89);
    expect((await t.outsider.get(third)).status).toBe(200);
    t.clock.forward(2);
    expect((await t.outsider.get(third)).status).toBe(404);
    expect(pathOf(order.id)).toBe('');
    expect(() => t.sqlite.exec('UPDATE order_links SET ended_at = NULL')).toThrow('only ended');
  });

  it('may be asked for so often and guessed so seldom', async () => {
    const statuses = [];
    for (let i = 0; i < 22; i += 1) statuses.push((await request(t.app.server).get(`/o/guess${i}`)).status);
    expect(statuses.filter((status) => status === 404)).toHaveLength(20);
    expect(statuses.at(-1)).toBe(429);
    expect((await t.outsider.get(path)).status).toBe(200);
  });
});

describe('a report', () => {
  it('that all is well is one press, and stands on the page', async () => {
    const { status, headers } = await say(path, { all: 'well' });
    expect([status, headers.location, headers['set-cookie']]).toEqual([303, `${path}#report`, undefined]);
    expect(reports()).toMatchObject([{ allWell: true, losses: [], photos: [] }]);
    expect((await t.outsider.get(path)).text).toContain('that all arrived well');
  });

  it('keeps numbers, a note and photos without what else they carried; a later one replaces it', async () => {
    const note = 'Two lay still.\nSorry <b>!';
    const first = { [`dead-${speciesId}`]: '2', [`missing-${speciesId}`]: '1', note };
    expect((await say(path, first, [{ bytes: await photo() }])).status).toBe(303);
    const [kept] = reports();
    expect(kept).toMatchObject({
      allWell: false,
      note,
      losses: [{ speciesId, sent: 14, dead: 2, missing: 1 }],
    });
    const stored = t.sqlite.prepare('SELECT bytes FROM arrival_photo_files').get() as { bytes: Buffer };
    expect((await sharp(stored.bytes).metadata()).exif).toBeUndefined();
    expect(stored.bytes.toString('latin1')).not.toContain('Somebody');
    const shown = (await t.outsider.get(path)).text;
    expect(shown).toContain('2 dead, 1 missing');
    expect(shown).toContain('Sorry &lt;b>!');
    await say(path, { [`dead-${speciesId}`]: '1', formKey: 'form-1123456789abcdef' });
    expect(reports().map(({ losses }) => losses[0]?.dead)).toEqual([1, 2]);
    expect((await t.outsider.get(path)).text).toContain('1 dead');
    expect(() => t.sqlite.exec('UPDATE arrival_losses SET dead = 0')).toThrow('is kept');
    expect(() => t.sqlite.exec('DELETE FROM arrival_reports')).toThrow('is kept');
  });

  it('sent twice, or sent again by somebody who recorded it, is one report', async () => {
    const losses = { [`dead-${speciesId}`]: '2' };
    const bytes = await photo();
    for (let i = 0; i < 3; i += 1) expect((await say(path, losses, [{ bytes }])).status).toBe(303);
    expect(reports()).toHaveLength(1);
    await say(path, { ...losses, formKey: 'form-2123456789abcdef' });
    await say(path, losses, [{ bytes }]);
    expect(reports()).toHaveLength(2);
    expect(reports()[0]?.photos).toEqual([]);
    endLink(t.db, order.id, by);
    expect((await say(path, losses)).status).toBe(404);
  });

  it.each([
    ['15', '', 'That is more than the 14 that were sent.'],
    ['13', '2', 'That is more than the 14 that were sent.'],
    ['-1', '', 'Write a whole number.'],
    ['1.5', '', 'Write a whole number.'],
    ['1e3', '', 'Write a whole number.'],
    ['', '', 'Write how many are dead or missing'],
  ])(
    'of %s dead and %s missing is told what to mend, and keeps what was typed',
    async (dead, missing, words) => {
      const typed = { [`dead-${speciesId}`]: dead, [`missing-${speciesId}`]: missing, note: 'They <smell>' };
      const { status, text } = await say(path, typed);
      expect(status).toBe(422);
      expect(text).toContain(words);
      expect(text).toContain('They &lt;smell>');
      if (dead) expect(text).toContain(`name="dead-${speciesId}" type="text" value="${dead}"`);
      expect(reports()).toEqual([]);
    },
  );

  it.each([
    ['of 30 MB', () => Buffer.alloc(30_000_000, 1), 'größer als 10 MB'],
    [
      'that is a script',
      () => Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'),
      'kein lesbares Foto',
    ],
    ['that ends half-way', async () => (await photo()).subarray(0, 900), 'beschädigt'],
  ])(
    'with a photo %s says so in the customer’s language and loses nothing typed',
    async (_what, make, words) => {
      const customer = makeCustomer(t.db, { language: 'de' });
      const german = sentOrder({ customerId: customer.id });
      const fields = { [`dead-${speciesId}`]: '3', note: 'Drei lagen still.' };
      const photos = [{ bytes: await make() }, { bytes: await photo(10) }];
      const { status, text } = await say(pathOf(german.id), fields, photos);
      expect(status).toBe(422);
      expect(text).toContain(words);
      expect(text).toContain('Drei lagen still.');
      expect(text).toContain('value="3"');
      expect(reports(german.id)).toEqual([]);
    },
  );

  it('takes three photos, and no more in all than an order needs', async () => {
    const photos = await Promise.all(
      [10, 60, 120, 200].map(async (shade) => ({ bytes: await photo(shade) })),
    );
    const losses = { [`dead-${speciesId}`]: '1' };
    expect((await say(path, losses, photos)).text).toContain('at most three photos');
    for (let i = 0; i < 4; i += 1)
      expect((await say(path, { ...losses, formKey: `${formKey}${i}` }, photos.slice(1))).status).toBe(303);
    const more = await say(path, { ...losses, formKey: `${formKey}9` }, photos.slice(0, 1));
    expect([more.status, more.text.includes('as much as can be sent')]).toEqual([422, true]);
    expect(reports()).toHaveLength(4);
  });

  it('is taken until the last day, not before the parcel has left and not for another site', async () => {
    const waiting = sentOrder({ state: 'packed', sentOn: null });
    expect((await say(pathOf(waiting.id), { all: 'well' })).text).toContain('Once the parcel is on its way');
    const elsewhere = { 'Sec-Fetch-Site': 'cross-site' };
    expect((await say(path, { all: 'well' }, [], elsewhere)).status).toBe(403);
    expect((await say(path, { all: 'well' }, [], { Origin: 'https://example.org' })).status).toBe(403);
    const both = { 'Sec-Fetch-Site': 'same-origin', Origin: 'https://example.org' };
    expect((await say(path, { all: 'well' }, [], both)).status).toBe(403);
    expect((await say(path, { all: 'well' }, [], { Origin: 'null' })).status).toBe(303);
    expect((await t.outsider.get(path)).text).toContain('We take reports until Saturday 28 November 2026.');
    t.clock.forward(4);
    await say(path, { [`dead-${speciesId}`]: '1', formKey: 'form-1123456789abcdef' });
    expect(reports()).toHaveLength(1);
    const late = sentOrder();
    expect((await t.outsider.get(pathOf(late.id))).text).toContain(
      'Reports were taken until Saturday 28 November',
    );
    expect(reports(waiting.id)).toEqual([]);
  });

  it('has longer where the trip was to take longer', () => {
    expect(lastReportDay('2026-11-24', firstArrivalHabits)).toBe('2026-11-28');
    expect(lastReportDay('2026-11-24', firstArrivalHabits, 74)).toBe('2026-11-30');
    const facts = {
      boxId: null,
      packId: null,
      lowestC: 8,
      highestC: 20,
      hoursBelowSafe: 0,
      hoursAboveSafe: 0,
    };
    keepTrip(t.db, order.id, { ...facts, transitHours: 74 }, by);
    expect(() => t.sqlite.exec('UPDATE trips SET lowest_c = 1')).toThrow('is kept');
  });
});
