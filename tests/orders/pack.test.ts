import { asc, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry, correctEntry, withdrawEntry } from '../../server/cultures/queries-diary.ts';
import {
  allocations,
  cultureEstimates,
  diary,
  orderHistory,
  orders,
  standingDiary,
} from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const estimate = ({ db }: TestApp, id: number) =>
  db.select().from(cultureEstimates).where(eq(cultureEstimates.cultureId, id)).get();
const harvests = ({ db }: TestApp) =>
  db.select().from(diary).where(eq(diary.kind, 'harvest')).orderBy(asc(diary.id)).all();
const standing = ({ db }: TestApp) =>
  db.select().from(standingDiary).where(eq(standingDiary.kind, 'harvest')).all();
const promises = ({ db }: TestApp) => db.select().from(allocations).orderBy(asc(allocations.id)).all();
const state = ({ db }: TestApp) => db.select().from(orders).get()?.state;
const lastNote = ({ db }: TestApp) =>
  db.select().from(orderHistory).orderBy(asc(orderHistory.id)).all().at(-1)?.note;

/** A confirmed order: two groups of one species from two cultures, one group of another with no extras. */
async function confirmed() {
  const app = await testApp();
  const { db, owner } = app;
  const kind = makeSpecies(db);
  const plain = makeSpecies(db, { groupAdults: 0, groupJuveniles: 12, groupExtras: 0 });
  const [top, low] = [makePlace(db, { name: 'Top shelf' }), makePlace(db, { name: 'Low shelf' })];
  const a = makeCounted(db, kind.id, 120, { code: 'AA-1', placeId: low.id });
  const b = makeCounted(db, kind.id, 120, { code: 'BB-2', placeId: top.id });
  const c = makeCounted(db, plain.id, 150, { code: 'CC-3', placeId: null });
  const order = makeOrder(db, { note: 'Ring twice.' });
  const first = makeLine(db, order.id, kind.id, { groups: 2 });
  const second = makeLine(db, order.id, plain.id, {
    position: 1,
    groupAdults: 0,
    groupJuveniles: 12,
    groupExtras: 0,
  });
  await owner.post('/orders/1/reserve', {
    [`groups-${first.id}-${a.id}`]: 1,
    [`groups-${first.id}-${b.id}`]: 1,
    [`groups-${second.id}-${c.id}`]: 1,
  });
  expect((await owner.post('/orders/1/confirm')).status).toBe(303);
  const tick = (...cultures: { id: number; speciesId: number }[]) =>
    Object.fromEntries(
      cultures.map(({ id, speciesId }) => [
        `tick-${speciesId === kind.id ? first.id : second.id}-${id}`,
        'yes',
      ]),
    );
  return { app, a, b, c, first, second, kind, ticked: tick(a, b, c), tick };
}

describe('the packing page', () => {
  it('shows a helper what to fetch in the order of the shelves, and no prices', async () => {
    const { app } = await confirmed();
    const { text, status } = await app.helper.get('/orders/1/pack');
    expect(status).toBe(200);
    const places = ['Top shelf', 'BB-2', 'Low shelf', 'AA-1', 'No place written down', 'CC-3'];
    const at = places.map((words) => text.indexOf(words));
    expect(at).toEqual([...at].sort((x, y) => x - y));
    expect(Math.min(...at)).toBeGreaterThan(0);
    for (const words of [
      '10 adults, 2 juveniles, 2 extras',
      '14 animals in all',
      '12 juveniles',
      'Ring twice.',
    ])
      expect(text, words).toContain(words);
    expect(text).not.toMatch(/€|EUR/);
    const page = await app.helper.get('/orders/1');
    expect(page.text).toContain('href="/orders/1/pack"');
    expect(page.text).not.toMatch(/€|EUR|Release|Cancel/);
  });

  it('is for confirmed orders alone', async () => {
    const { app } = await confirmed();
    for (const other of ['draft', 'packed', 'sent', 'closed', 'cancelled'] as const) {
      app.db.update(orders).set({ state: other }).run();
      expect((await app.helper.get('/orders/1/pack')).headers.location, other).toBe('/orders/1');
      expect((await app.helper.post('/orders/1/pack', {})).status, other).toBe(409);
    }
    expect(harvests(app)).toHaveLength(0);
  });
});

describe('marking an order packed', () => {
  it('writes a harvest into each culture’s diary, ends each promise, and leaves what is spare as it was', async () => {
    const { app, a, b, c, ticked, first } = await confirmed();
    const before = [a, b, c].map(({ id }) => estimate(app, id));
    const answer = await app.helper.post('/orders/1/pack', {
      ...ticked,
      [`extras-${first.id}-${b.id}`]: 'adults',
    });
    expect([answer.status, answer.headers.location]).toEqual([303, '/orders/1']);
    expect(state(app)).toBe('packed');
    const order = app.db.select().from(orders).get();
    const common = { onDay: testToday, via: 'packing', orderId: order?.id, madeBy: 'person-helper' };
    expect(harvests(app)).toMatchObject([
      { ...common, cultureId: b.id, animals: 14, adults: 12, juveniles: 2 },
      { ...common, cultureId: a.id, animals: 14, adults: 10, juveniles: 4 },
      { ...common, cultureId: c.id, animals: 12, adults: 0, juveniles: 12 },
    ]);
    expect(new Set(promises(app).map((one) => one.state))).toEqual(new Set(['packed']));
    const ids = new Set(harvests(app).map((entry) => entry.id));
    expect(promises(app).every((one) => one.diaryId !== null && ids.has(one.diaryId))).toBe(true);
    for (const [index, { id }] of [a, b, c].entries()) {
      const now = estimate(app, id);
      expect(now?.median).toBeLessThan(before[index]?.median ?? 0);
      expect(Math.abs((now?.spareAnimals ?? 0) - (before[index]?.spareAnimals ?? 0))).toBeLessThanOrEqual(1);
    }
    const page = await app.helper.get('/orders/1');
    expect(page.text).toContain('Order 1 is packed: 40 animals from 3 cultures');
    expect(page.text).toContain('action="/orders/1/unpack"');
    expect(page.text).toContain('Hal Helper');
  });

  it('acts once', async () => {
    const { app, ticked } = await confirmed();
    await app.helper.csrf();
    const send = () => app.helper.post('/orders/1/pack', ticked, { formKey: 'pack-this-box-once-1' });
    for (const answer of [await send(), ...(await Promise.all([send(), send(), send()]))])
      expect(answer.status).toBe(303);
    expect(harvests(app)).toHaveLength(3);
    expect((await app.helper.post('/orders/1/pack', ticked)).status).toBe(409);
    expect(harvests(app)).toHaveLength(3);
  });

  it('wants every tick, and keeps those that are there', async () => {
    const { app, a, b, tick, first } = await confirmed();
    const answer = await app.helper.post('/orders/1/pack', {
      ...tick(a, b),
      [`extras-${first.id}-${a.id}`]: 'adults',
    });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('CC-3 is not ticked yet.');
    expect(answer.text).not.toContain('AA-1 is not ticked yet.');
    expect(answer.text).toMatch(new RegExp(`name="tick-${first.id}-${a.id}"[^>]*checked`));
    expect(answer.text).toMatch(new RegExp(`name="extras-${first.id}-${a.id}" value="adults" checked`));
    expect(state(app)).toBe('confirmed');
    expect(harvests(app)).toHaveLength(0);
  });

  it('is held up by a culture that has gone into quarantine since', async () => {
    const { app, a, ticked } = await confirmed();
    const quarantine = { kind: 'quarantine', via: 'page', madeBy: null, madeAt: testNow } as const;
    appendEntry(app.db, { cultureId: a.id, onDay: testToday, ...quarantine });
    refreshEstimate(app.db, a.id, testToday, testNow);
    const page = await app.helper.get('/orders/1/pack');
    expect(page.text).toContain('AA-1 has gone into quarantine since. Nothing may leave it.');
    expect(page.text).not.toContain('Mark as packed');
    const answer = await app.helper.post('/orders/1/pack', ticked);
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('AA-1 has gone into quarantine since.');
    expect(state(app)).toBe('confirmed');
    expect(harvests(app)).toHaveLength(0);
    expect((await app.owner.get('/orders/1')).text).toContain('AA-1 has gone into quarantine since.');
  });

  it('warns of mites, but leaves it to the packer', async () => {
    const { app, a, ticked } = await confirmed();
    const mites = { kind: 'mites', via: 'page', madeBy: null, madeAt: testNow } as const;
    appendEntry(app.db, { cultureId: a.id, onDay: testToday, ...mites });
    refreshEstimate(app.db, a.id, testToday, testNow);
    expect((await app.helper.get('/orders/1/pack')).text).toContain('Mites were seen in it.');
    expect((await app.helper.post('/orders/1/pack', ticked)).status).toBe(303);
  });

  it('takes several reservations of the same as one pick, each with its harvest', async () => {
    const app = await testApp();
    const kind = makeSpecies(app.db);
    const culture = makeCounted(app.db, kind.id, 150);
    const order = makeOrder(app.db);
    const line = makeLine(app.db, order.id, kind.id, { groups: 2 });
    const field = { [`groups-${line.id}-${culture.id}`]: 1 };
    await app.owner.post('/orders/1/reserve', field);
    await app.owner.post('/orders/1/reserve', field);
    await app.owner.post('/orders/1/confirm');
    const page = await app.helper.get('/orders/1/pack');
    expect(page.text).toContain('28 animals in all');
    expect(page.text.match(/name="tick-/g)).toHaveLength(1);
    await app.helper.post('/orders/1/pack', { [`tick-${line.id}-${culture.id}`]: 'yes' });
    expect(harvests(app).map((entry) => entry.animals)).toEqual([14, 14]);
  });
});

describe('not packed after all', () => {
  it('takes the harvests out by later entries and promises the animals anew', async () => {
    const { app, a, ticked } = await confirmed();
    const before = estimate(app, a.id);
    await app.helper.post('/orders/1/pack', ticked);
    const key = { formKey: 'unpack-this-box-once' };
    expect((await app.helper.post('/orders/1/unpack', {}, key)).headers.location).toBe('/orders/1');
    expect((await app.helper.post('/orders/1/unpack', {}, key)).status).toBe(303);
    expect(state(app)).toBe('confirmed');
    expect(standing(app)).toHaveLength(0);
    const all = harvests(app);
    expect(all).toHaveLength(6);
    for (const entry of all.slice(3)) {
      expect(entry.withdrawn).toBe(true);
      expect(entry.replacesId).toBe(entry.rootId);
      expect(entry.via).toBe('packing');
    }
    expect(promises(app).map((one) => one.state)).toEqual([
      'packed',
      'packed',
      'packed',
      'reserved',
      'reserved',
      'reserved',
    ]);
    expect(
      promises(app)
        .slice(3)
        .map((one) => one.insteadOf)
        .sort(),
    ).toEqual([1, 2, 3]);
    expect(estimate(app, a.id)).toEqual(before);
    expect(lastNote(app)).toContain('Not packed after all');
    expect((await app.helper.post('/orders/1/unpack')).status).toBe(409);
    // and packed again, as if nothing had been
    expect((await app.helper.post('/orders/1/pack', ticked)).status).toBe(303);
    expect(standing(app)).toHaveLength(3);
    expect((await app.owner.get('/orders/1')).text.match(/all packed/g)).toHaveLength(2);
  });

  it('takes out a harvest that was corrected meanwhile, and minds none that was taken out by hand', async () => {
    const { app, ticked } = await confirmed();
    await app.helper.post('/orders/1/pack', ticked);
    const [first, second] = harvests(app);
    const by = { via: 'page', madeBy: null, madeAt: testNow } as const;
    correctEntry(app.db, first?.id ?? 0, { onDay: testToday, animals: 13, ...by });
    withdrawEntry(app.db, second?.id ?? 0, by);
    expect((await app.owner.post('/orders/1/unpack')).status).toBe(303);
    expect(standing(app)).toHaveLength(0);
    expect(state(app)).toBe('confirmed');
  });

  it('leaves the order a draft when something cannot be promised any more', async () => {
    const { app, a, ticked } = await confirmed();
    await app.helper.post('/orders/1/pack', ticked);
    const quarantine = { kind: 'quarantine', via: 'page', madeBy: null, madeAt: testNow } as const;
    appendEntry(app.db, { cultureId: a.id, onDay: testToday, ...quarantine });
    refreshEstimate(app.db, a.id, testToday, testNow);
    expect((await app.helper.post('/orders/1/unpack')).status).toBe(303);
    expect(state(app)).toBe('draft');
    expect(standing(app)).toHaveLength(0);
    expect(
      promises(app)
        .slice(3)
        .map((one) => [one.cultureId === a.id, one.state]),
    ).toEqual(
      expect.arrayContaining([
        [true, 'released'],
        [false, 'reserved'],
        [false, 'reserved'],
      ]),
    );
    expect(lastNote(app)).toContain('AA-1 could not be reserved again');
    const page = await app.helper.get('/orders/1');
    expect(page.text).toContain('The animals from AA-1 could not be reserved again');
    expect((await app.owner.get('/orders/1')).text).toContain('1 of 2 reserved');
  });

  it('keeps the owner’s reason on what is promised anew', async () => {
    const app = await testApp();
    const kind = makeSpecies(app.db);
    const culture = makeCounted(app.db, kind.id, 60);
    const line = makeLine(app.db, makeOrder(app.db).id, kind.id);
    await app.owner.post('/orders/1/reserve', {
      [`groups-${line.id}-${culture.id}`]: 1,
      override: 'yes',
      overrideReason: 'the culture is being closed',
    });
    await app.owner.post('/orders/1/confirm');
    await app.helper.post('/orders/1/pack', { [`tick-${line.id}-${culture.id}`]: 'yes' });
    await app.helper.post('/orders/1/unpack');
    expect(promises(app)).toMatchObject([
      { state: 'packed' },
      { state: 'reserved', overrideReason: 'the culture is being closed' },
    ]);
  });
});

describe('sending and closing', () => {
  it('keeps the day it left, and can be taken back', async () => {
    const { app, ticked } = await confirmed();
    await app.helper.post('/orders/1/pack', ticked);
    const wrong = async (sentOn: string) => (await app.owner.post('/orders/1/sent', { sentOn })).text;
    expect(await wrong('2026-11-26')).toContain('This day is still to come.');
    expect(await wrong('2026-11-01')).toContain('This is before the order was written down.');
    expect(await wrong('soon')).toContain('Write a day of the calendar');
    expect(await wrong('soon')).toContain('value="soon"');
    expect(await wrong('')).toContain('Write a day of the calendar');
    expect(state(app)).toBe('packed');
    app.clock.forward(2);
    const key = { formKey: 'sent-this-one-once-1' };
    const answer = await app.owner.post('/orders/1/sent', { sentOn: '2026-11-26' }, key);
    expect(answer.status).toBe(303);
    expect((await app.owner.post('/orders/1/sent', { sentOn: '2026-11-26' }, key)).status).toBe(303);
    expect(app.db.select().from(orders).get()).toMatchObject({ state: 'sent', sentOn: '2026-11-26' });
    expect((await app.owner.get('/orders/1')).text).toContain('Left on 26 Nov 2026.');
    expect((await app.helper.post('/orders/1/unpack')).status).toBe(409);
    expect((await app.owner.post('/orders/1/cancel')).status).toBe(409);
    expect((await app.owner.post('/orders/1/close')).status).toBe(303);
    expect(state(app)).toBe('closed');
    expect((await app.owner.post('/orders/1/back')).status).toBe(303);
    expect(state(app)).toBe('sent');
    expect((await app.owner.post('/orders/1/back')).status).toBe(303);
    expect(app.db.select().from(orders).get()).toMatchObject({ state: 'packed', sentOn: null });
    expect((await app.owner.post('/orders/1/back')).status).toBe(409);
    const steps = app.db.select().from(orderHistory).orderBy(asc(orderHistory.id)).all();
    expect(steps.slice(-5).map((step) => step.state)).toEqual(['packed', 'sent', 'closed', 'sent', 'packed']);
  });
});
