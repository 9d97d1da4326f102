import { eq } from 'drizzle-orm';
import { beforeEach, describe, expect, it } from 'vitest';
import { tripOf } from '../../server/arrivals/queries-trips.ts';
import { pack, unpack } from '../../server/orders/pack.ts';
import { hold, letGo } from '../../server/parcels/choose.ts';
import { choiceOf, choicesMade } from '../../server/parcels/queries-choices.ts';
import { readBox, readPack, updateBox } from '../../server/parcels/queries-stock.ts';
import { insertWeatherPlace } from '../../server/parcels/queries-weather.ts';
import { boxes, mails, orders, weatherAreas, weatherDays } from '../../server/schema/tables.ts';
import { makeLine } from '../support/orders.ts';
import { readyToPack, toPack, writeFortnight } from '../support/packing-day.ts';
import { makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

let t: TestApp;
beforeEach(async () => {
  t = await testApp();
});

const order = (id: number) => t.db.select().from(orders).where(eq(orders.id, id)).get()!;
const plain = { box: 'Foam', pack: '', packs: '0', way: 'delivered' };
const heated = { ...plain, pack: 'Warm', packs: '1' };
const versionOf = async (number: number) =>
  /name="version" value="([^"]+)"/.exec((await t.owner.get(`/parcels/orders/${number}`)).text)?.[1] ?? '';
const choose = async (number: number, fields: Record<string, string>, version?: string) =>
  t.owner.post(`/parcels/orders/${number}/choose`, {
    on: testToday,
    ...plain,
    ...fields,
    version: version ?? (await versionOf(number)),
  });
const by = { personId: cast.owner.id, now: testNow, today: testToday };

describe('the packing day', () => {
  it('says what is missing, and where to mend it, one thing after the other', async () => {
    expect((await t.owner.get('/parcels/packing')).text).toContain('No confirmed order waits');
    toPack(t.db);
    const page = async () => (await t.owner.get('/parcels/packing')).text;
    expect(await page()).toContain('No box is in use');
    const { endId } = readyToPack(t.db);
    expect(await page()).toContain('Take this');
    t.db.delete(weatherDays).where(eq(weatherDays.placeId, endId)).run();
    expect(await page()).toContain('There is no forecast for Up north');
    t.db.delete(weatherAreas).run();
    expect(await page()).toContain('not known whose weather counts');
    const text = (await t.owner.get('/parcels/orders/1')).text;
    expect(text).toContain('Choose a place of the weather');
    const other = insertWeatherPlace(
      t.db,
      { name: 'Elsewhere', label: '', part: 'destination', latitude: 50, longitude: 9 },
      testNow,
    );
    writeFortnight(t.db, other, () => 14);
    await t.owner.post('/parcels/orders/1/way', { place: other, also: 'yes' });
    expect(t.db.select().from(weatherAreas).get()).toMatchObject({ postcodeStart: '12', placeId: other });
    expect(await page()).toContain('Take this');
  });

  it('offers today until the carrier’s hour, then Monday: nothing lies over a weekend', async () => {
    readyToPack(t.db);
    toPack(t.db);
    expect((await t.owner.get('/parcels/packing')).text).toContain('on Wed 25 Nov: Foam, no pack');
    t.clock.at = Date.UTC(2026, 10, 25, 16, 0, 0);
    const { text } = await t.owner.get('/parcels/packing');
    expect(text).toContain('on Mon 30 Nov: Foam, no pack');
    expect(text).toContain('parcels were taken until 16:00');
  });

  it('does not let a parcel lie idle over a holiday: Christmas of 2026 is on a Friday', async () => {
    // 25 and 26 December are public holidays all over Germany (laws of the federal states on public holidays, from memory).
    t.clock.at = Date.UTC(2026, 11, 23, 11, 0, 0);
    const { homeId, endId } = readyToPack(t.db, { carrier: { transitDays: 2, collectsOn: '1234' } });
    t.db.delete(weatherDays).run();
    const { db } = t;
    for (const placeId of [homeId, endId])
      for (let i = 0; i < 20; i += 1)
        db.insert(weatherDays)
          .values({
            placeId,
            onDay: new Date(Date.UTC(2026, 11, 23 + i)).toISOString().slice(0, 10),
            source: 'the radio',
            minC: 14,
            maxC: 20,
            forecastAt: t.clock.at,
            via: 'page',
            madeAt: t.clock.at,
          })
          .run();
    toPack(db);
    const { text } = await t.owner.get('/parcels/orders/1');
    expect(text).toContain('would lie idle on 2026-12-25');
    expect(text).toContain('on Mon 28 Dec: Foam, no pack');
  });

  it('waits for the day that is safe, and says why not sooner', async () => {
    readyToPack(t.db, { lowC: (day) => (day < 4 ? -25 : 14) });
    toPack(t.db);
    const { text } = await t.owner.get('/parcels/packing');
    expect(text).toContain('Wait');
    expect(text).toContain('until Mon 30 Nov, then Foam');
    expect(text).toMatch(/Wed 25 Nov: colder than 8.°C within \d+ h, as forecast/);
  });

  it('takes the tightest limits of all species in a parcel, and says whose they are', async () => {
    readyToPack(t.db);
    const { order: made } = toPack(t.db, {
      scientificName: 'Exemplum calidum',
      safeLowC: 12,
      idealLowC: 18,
      idealHighC: 24,
      safeHighC: 30,
    });
    const cool = makeSpecies(t.db, {
      scientificName: 'Exemplum frigidum',
      safeLowC: 6,
      idealLowC: 14,
      idealHighC: 20,
      safeHighC: 24,
    });
    makeLine(t.db, made.id, cool.id, { position: 1 });
    const { text } = await t.owner.get('/parcels/orders/1');
    expect(text).toContain('not colder for Exemplum calidum, not warmer for Exemplum frigidum');
    await choose(1, {});
    expect(choiceOf(t.db, made.id)?.limits).toMatchObject({ safeLowC: 12, safeHighC: 24 });
  });

  it('tells of species that cannot share a parcel', async () => {
    readyToPack(t.db);
    const { order: made } = toPack(t.db, { safeLowC: 22, idealLowC: 24, idealHighC: 26, safeHighC: 28 });
    makeLine(t.db, made.id, makeSpecies(t.db, { idealLowC: 14, idealHighC: 18, safeHighC: 20 }).id, {
      position: 1,
    });
    expect((await t.owner.get('/parcels/packing')).text).toContain('cannot share a parcel');
    expect((await t.owner.get('/parcels/orders/1')).status).toBe(200);
  });

  it('says that a forecast is old', async () => {
    const { endId } = readyToPack(t.db);
    toPack(t.db);
    t.db.delete(weatherDays).where(eq(weatherDays.placeId, endId)).run();
    writeFortnight(t.db, endId, () => 14, testNow - 60 * 3_600_000);
    const { text } = await t.owner.get('/parcels/packing');
    expect(text).toContain('The forecast for Up north is old');
    expect(text).toContain('Up north: the radio, 2 days old');
  });

  it('is for helpers to look at, for the owner to decide', async () => {
    readyToPack(t.db);
    toPack(t.db);
    const { text } = await t.helper.get('/parcels/packing');
    expect(text).toContain('Order 1');
    expect(text).not.toContain('Take this');
    expect((await t.helper.get('/parcels/orders/1')).text).not.toContain('Send it so');
    expect((await t.helper.get('/parcels/carriers')).text).toContain('Example Post');
    const refused = await t.helper.post('/parcels/orders/1/choose', { on: testToday, ...plain });
    expect(refused.status).toBeGreaterThanOrEqual(403);
    expect(choiceOf(t.db, 1)).toBeNull();
  });
});

describe('a decision', () => {
  it('is kept as it was made, sets the order’s day, and is taken back', async () => {
    readyToPack(t.db);
    const { order: made } = toPack(t.db);
    expect((await choose(1, { on: '2026-11-30' })).status).toBe(303);
    const kept = choiceOf(t.db, made.id)!;
    expect(kept).toMatchObject({
      dispatchOn: '2026-11-30',
      dispatchBy: '16:00',
      packs: 0,
      isOverride: false,
    });
    expect(kept.curves.map(({ scenario }) => scenario)).toEqual(['forecast', 'colder', 'warmer', 'late']);
    expect(kept.curves.every(({ points }) => points.length > 20 && points.length <= 60)).toBe(true);
    expect(kept.places.map(({ role, source }) => [role, source])).toEqual([
      ['origin', 'the radio'],
      ['destination', 'the radio'],
    ]);
    expect(order(made.id).dispatchOn).toBe('2026-11-30');
    t.db.delete(weatherDays).run();
    expect(choiceOf(t.db, made.id)?.curves).toEqual(kept.curves);
    await t.owner.post('/parcels/orders/1/take-back', { choice: kept.id });
    expect(choiceOf(t.db, made.id)).toBeNull();
    expect(order(made.id).dispatchOn).toBeNull();
    expect(choicesMade(t.db, made.id)).toHaveLength(1);
  });

  it('that was refused needs a reason, which is kept with what was refused', async () => {
    readyToPack(t.db, { lowC: () => 2 });
    const { order: made } = toPack(t.db);
    const wrong = await choose(1, {});
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('Write why, in a few words.');
    expect((await choose(1, { reason: 'She fetches it at the depot.' })).status).toBe(303);
    expect(choiceOf(t.db, made.id)).toMatchObject({
      isOverride: true,
      reason: 'She fetches it at the depot.',
      why: [expect.stringContaining('colder than 8')],
    });
    expect((await t.owner.get('/orders/1')).text).toContain('She fetches it at the depot.');
  });

  it('never lets a heat pack into warm weather, whatever the form says', async () => {
    readyToPack(t.db, { lowC: () => 24 });
    const { order: made } = toPack(t.db);
    const refused = await choose(1, { ...heated, reason: 'because I want to' });
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('nobody may set that aside');
    expect(choiceOf(t.db, made.id)).toBeNull();
  });

  it('of two owners at once is made once; the other is told', async () => {
    readyToPack(t.db);
    const { order: made } = toPack(t.db);
    const version = await versionOf(1);
    expect((await choose(1, {}, version)).status).toBe(303);
    const late = await choose(1, { on: '2026-11-30' }, version);
    expect(late.status).toBe(409);
    expect(late.text).toContain('decided or changed something meanwhile');
    expect(choiceOf(t.db, made.id)?.dispatchOn).toBe(testToday);
  });

  it('is for what is there: forged boxes, days, packs, orders and choices are refused', async () => {
    const { boxId } = readyToPack(t.db);
    const { order: made } = toPack(t.db);
    const forged: Record<string, string>[] = [
      { box: 'Nothing' },
      { on: '2026-11-28' },
      { on: '2027-11-28' },
      { pack: 'Warm', packs: '4' },
      { pack: 'Warm', packs: '0' },
      { way: 'held' },
      { way: 'by air' },
      { on: 'today' },
    ];
    for (const fields of forged) expect((await choose(1, fields)).status).toBe(409);
    expect((await choose(77, {}, '1.0')).status).toBe(404);
    await t.owner.post('/parcels/orders/1/take-back', { choice: 'x' });
    const wrong = await t.owner.post('/parcels/orders/1/way', { place: 999, carrier: 999 });
    expect(wrong.status).toBe(422);
    updateBox(t.db, boxId, { numberLeft: 0 });
    expect((await choose(1, {})).status).toBe(409);
    expect(choiceOf(t.db, made.id)).toBeNull();
  });

  it('holds a parcel back for a day, and lets it go again', async () => {
    readyToPack(t.db);
    const { order: made } = toPack(t.db);
    await choose(1, {});
    const past = await t.owner.post('/parcels/orders/1/hold', {
      until: testToday,
      version: await versionOf(1),
    });
    expect(past.status).toBe(422);
    await t.owner.post('/parcels/orders/1/hold', { until: '2026-12-01', version: await versionOf(1) });
    expect(choiceOf(t.db, made.id)).toBeNull();
    expect(order(made.id).dispatchOn).toBe('2026-12-01');
    expect((await t.owner.get('/parcels/packing')).text).toContain('on Tue 1 Dec: Foam');
    await t.owner.post('/parcels/orders/1/let-go');
    expect((await t.owner.get('/parcels/packing')).text).toContain('on Wed 25 Nov: Foam');
  });

  it('writes to the customer that the parcel waits, and leaves the mail unsent when it need not', () => {
    const { order: made } = toPack(t.db);
    const held = { number: 1, version: '1.0', until: '2026-12-01', tell: true };
    expect(t.db.transaction((tx) => hold(tx, held, by))).toEqual({ told: true });
    const mail = () => t.db.select().from(mails).where(eq(mails.orderId, made.id)).all();
    expect(mail()).toMatchObject([{ kind: 'order held', toAddress: 'carla@example.org', state: 'waiting' }]);
    expect(mail()[0]?.plain).toContain('1 December 2026');
    expect(t.db.transaction((tx) => hold(tx, held, by))).toBeNull();
    t.db.transaction((tx) => letGo(tx, 1, by));
    expect(mail()).toMatchObject([{ state: 'stopped' }]);
  });

  it('of the weather before is made again when the weather turns', async () => {
    const { homeId, endId } = readyToPack(t.db);
    toPack(t.db);
    await choose(1, { on: '2026-11-30' });
    expect((await t.owner.get('/parcels/packing')).text).toContain('Decided');
    for (const id of [homeId, endId]) writeFortnight(t.db, id, () => -25, testNow + 1);
    const { text } = await t.owner.get('/parcels/packing');
    expect(text).toContain('Decide again');
    expect(text).toContain('By now it would be refused: colder than');
  });
});

describe('boxes and packs', () => {
  it('leave the stock with the packing, come back with the unpacking, and never go below none', async () => {
    const { boxId, packId } = readyToPack(t.db, { lowC: () => 0 });
    const { order: made } = toPack(t.db);
    await choose(1, { ...heated, reason: 'tried and found well' });
    expect(choiceOf(t.db, made.id)?.packs).toBe(1);
    const left = () => [readBox(t.db, boxId)?.numberLeft, readPack(t.db, packId)?.numberLeft];
    t.db.transaction((tx) => pack(tx, 1, [], by));
    expect(left()).toEqual([2, 4]);
    expect(tripOf(t.db, made.id)).toMatchObject({ boxId, packId });
    expect(choiceOf(t.db, made.id)?.isTaken).toBe(true);
    t.db.transaction((tx) => unpack(tx, 1, by));
    expect(left()).toEqual([3, 5]);
    updateBox(t.db, boxId, { numberLeft: 0 });
    expect(() => t.db.transaction((tx) => pack(tx, 1, [], by))).toThrow(/There is no more Foam in stock/);
    expect(left()).toEqual([0, 5]);
    expect(order(made.id).state).toBe('confirmed');
  });

  it('are promised once: the best is taken for as many orders as there are boxes, in one step, with undo', async () => {
    const { boxId } = readyToPack(t.db);
    for (let i = 0; i < 4; i += 1) toPack(t.db, { scientificName: `Exemplum ${'abcd'[i]}` });
    const { text } = await t.owner.get('/parcels/packing');
    const fields = Object.fromEntries(
      [...text.matchAll(/name="(order-\d+)" value="([^"]+)"/g)].map(([, name = '', value = '']) => [
        name,
        value,
      ]),
    );
    expect(Object.keys(fields)).toHaveLength(4);
    const formKey = 'take-best-0123456789';
    await t.owner.post('/parcels/packing/take-best', fields, { formKey });
    const decided = () =>
      t.db
        .select()
        .from(orders)
        .all()
        .filter(({ id }) => choiceOf(t.db, id) !== null).length;
    expect(decided()).toBe(3);
    const after = (await t.owner.get('/parcels/packing')).text;
    expect(after).toContain('no Foam is left');
    await t.owner.post('/parcels/packing/take-best', fields, { formKey });
    expect(decided()).toBe(3);
    expect(t.db.select().from(boxes).where(eq(boxes.id, boxId)).get()?.numberLeft).toBe(3);
    await t.owner.post('/parcels/packing/undo', { batch: formKey });
    expect(decided()).toBe(0);
  });
});

describe('carriers', () => {
  const carrier = {
    name: 'Sample Mail',
    collectsOn: ['1', '2'],
    deliversOn: ['1', '2', '3', '4', '5'],
    country: 'DE',
    transitDays: 1,
    deliveredBy: '18:00',
    lateHours: 24,
    startHours: 6,
    endHours: 8,
    vanWarmer: 0,
    porchHours: 0,
  };

  it('are written down, edited and retired; what cannot be is said beside its field', async () => {
    expect((await t.owner.post('/parcels/carriers', carrier)).status).toBe(303);
    const wrong: [object, RegExp][] = [
      [{ name: 'Sample Mail' }, /has this name already/],
      [{ name: 'A', region: 'NOWHERE' }, /no part of DE whose holidays are known/],
      [{ name: 'A', collectsOn: ['6'] }, /it carries nothing/],
      [{ name: 'A', startHours: 20, endHours: 20 }, /longer than the trip/],
      [{ name: 'A', deliveredBy: '25:00' }, /Write a time/],
      [{ name: 'A', hub: 12 }, /Choose one of the list/],
    ];
    for (const [change, words] of wrong) {
      const answer = await t.owner.post('/parcels/carriers', { ...carrier, ...change });
      expect(answer.status).toBe(422);
      expect(answer.text).toMatch(words);
    }
    await t.owner.post('/parcels/carriers/1/retire');
    expect((await t.owner.get('/parcels/carriers')).text).toContain('no longer used');
  });

  it('and habits and areas are kept within what can be', async () => {
    readyToPack(t.db);
    expect((await t.owner.post('/parcels/carriers/habits', { origin: 99 })).status).toBe(422);
    const bad = await t.owner.post('/parcels/carriers/areas', { country: 'DE', postcode: '**', place: 1 });
    expect(bad.text).toContain('Letters and digits');
    await t.owner.post('/parcels/carriers/areas', { country: 'AT', postcode: '1 0', place: 1 });
    expect(t.db.select().from(weatherAreas).all().at(-1)).toMatchObject({
      country: 'AT',
      postcodeStart: '10',
    });
  });
});
