import { eq } from 'drizzle-orm';
import { beforeEach, describe, expect, it } from 'vitest';
import { lessons, toldOf } from '../../server/arrivals/queries-lessons.ts';
import { ensureLink } from '../../server/arrivals/queries-links.ts';
import { keepReport } from '../../server/arrivals/queries-reports.ts';
import { keepTrip, tripOf } from '../../server/arrivals/queries-trips.ts';
import { allocations, audit, packs, species } from '../../server/schema/tables.ts';
import { learnLimit } from '../../shared/arrivals/limit.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';

const by = { personId: cast.owner.id, now: testNow };
const quiet = { boxId: null, hoursBelowSafe: 0, hoursAboveSafe: 0, transitHours: 30 };

let t: TestApp;
let speciesId: number;
let cultureId: number;
let customerId: number;

beforeEach(async () => {
  t = await testApp();
  speciesId = makeSpecies(t.db, { scientificName: 'Exemplum dubium', lethalLowC: 0, safeLowC: 4 }).id;
  cultureId = makeCulture(t.db, { speciesId }).id;
  customerId = makeCustomer(t.db).id;
});

type Parcel = { lowestC: number; dead: number; packId?: number | null; missing?: number };

/** A parcel of 14 that has left, with what the customer said where they said anything. */
function parcel({ lowestC, dead, packId = null, missing = 0 }: Parcel, tells = true) {
  const order = makeOrder(t.db, { state: 'sent', sentOn: '2026-11-20', customerId });
  const line = makeLine(t.db, order.id, speciesId);
  const row = { orderLineId: line.id, cultureId, groups: 1, animals: 14, madeAt: testNow };
  t.db
    .insert(allocations)
    .values({ ...row, state: 'packed' })
    .run();
  keepTrip(t.db, order.id, { ...quiet, packId, lowestC, highestC: 22 }, by);
  if (!tells) return order;
  const losses = dead + missing > 0 ? [{ speciesId, sent: 14, dead, missing }] : [];
  const form = { linkId: ensureLink(t.db, order, by).id, formKey: `form-0123456789-${order.id}` };
  keepReport(t.db, { ...form, orderId: order.id, losses, note: '', photos: [], now: testNow });
  return order;
}

/** Thirty parcels: the colder, the more dead. */
function aWinter() {
  for (let i = 0; i < 30; i += 1) {
    const lowestC = 2 + i * 0.5;
    parcel({ lowestC, dead: Math.max(0, Math.round(7 - lowestC + (i % 3) - 1)) });
  }
}

const safeLow = () => t.db.select().from(species).where(eq(species.id, speciesId)).get()?.safeLowC;

describe('what arrivals teach', () => {
  it('takes the latest trip and the latest report of each parcel, dead ones alone, and parcels that were told of', () => {
    const order = parcel({ lowestC: 9, dead: 2, missing: 1 });
    keepTrip(t.db, order.id, { ...quiet, packId: null, lowestC: 5, highestC: 21 }, by);
    parcel({ lowestC: 7, dead: 3 }, false);
    expect(tripOf(t.db, order.id)?.lowestC).toBe(5);
    expect(lessons(t.db)).toMatchObject([
      { orderNumber: order.number, sent: 14, dead: 2, lowestC: 5, pack: null },
    ]);
    expect(toldOf(t.db)).toEqual({ sent: 2, told: 1 });
    const form = { linkId: ensureLink(t.db, order, by).id, formKey: 'form-9123456789abcdef' };
    keepReport(t.db, { ...form, orderId: order.id, losses: [], note: '', photos: [], now: testNow });
    expect(lessons(t.db)).toMatchObject([{ sent: 14, dead: 0 }]);
  });

  it('says what is lacking while there is little', async () => {
    expect((await t.owner.get('/parcels/arrivals')).text).toContain('No parcel has both');
    parcel({ lowestC: 9, dead: 2 });
    expect((await t.owner.get('/parcels/arrivals')).text).not.toContain('<svg class="curve');
    parcel({ lowestC: 12, dead: 0 });
    parcel({ lowestC: 15, dead: 0 });
    const { text } = await t.owner.get('/parcels/arrivals');
    expect(text).toContain('1 of 3 parcels had losses');
    expect(text).toContain('A curve is fitted from 20 parcels on');
    expect(text).not.toContain('/parcels/arrivals/limit"');
    const tooEarly = await t.owner.post('/parcels/arrivals/limit', { species: speciesId, side: 'low' });
    expect([tooEarly.status, safeLow()]).toEqual([409, 4]);
  });

  it('stands by species and pack', async () => {
    const pack = { name: 'Warm 40', massG: 90, smallestBoxL: 5, mostInBox: 1, priceMinor: 100 };
    const heat = { kind: 'heat', watts: 4, hours: 40, warmUpHours: 1, source: 'a sheet', note: '' } as const;
    const { id: packId } = t.db
      .insert(packs)
      .values({ ...pack, ...heat, madeAt: testNow })
      .returning()
      .get();
    parcel({ lowestC: 9, dead: 2 });
    parcel({ lowestC: 12, dead: 0, packId });
    parcel({ lowestC: 14, dead: 1, packId });
    const { text } = await t.owner.get('/parcels/arrivals');
    expect(text).toMatch(/Warm 40.*?>2<.*?>28<.*?1 \(3\.6\u00a0%\).*?12 °C to 14 °C/s);
  });

  it('moves a limit with one press and puts it back with another, both on record', async () => {
    aWinter();
    const { text } = await t.owner.get(`/parcels/arrivals?species=${speciesId}`);
    const found = /losses pass 2 % at about ([\d.]+) °C \(([\d.]+) °C to ([\d.]+) °C\)/
      .exec(text)
      ?.slice(1)
      .map(Number);
    const [tempC = 0, low = 0, high = 0] = found ?? [];
    expect(low < tempC && tempC < high).toBe(true);
    // in the made-up winter above nothing dies from 8 °C on, and the share passes 2 % about there
    expect(Math.abs(tempC - 8)).toBeLessThan(1.5);
    // Reckoned again from the curve as it is said: log-odds of 2 % on a logistic curve (Hosmer and Lemeshow, Applied
    // Logistic Regression, section 1.1, from memory).
    const [a = 0, b = 0, centre = 0] = (
      /e\^−\((−?[\d.]+) ([−+] [\d.]+) × \(°C − ([\d.]+)\)\)/.exec(text)?.slice(1) ?? []
    ).map((said) => Number(said.replace('−', '-').replace(' ', '')));
    expect(Math.abs(centre + (Math.log(0.02 / 0.98) - a) / b - tempC)).toBeLessThan(0.06);
    const answer = await t.owner.post('/parcels/arrivals/limit', {
      species: speciesId,
      side: 'low',
      limitC: 19,
    });
    expect(answer.status).toBe(303);
    const taken = safeLow() ?? 0;
    expect(taken).toBe(Math.ceil(tempC * 2) / 2);
    const back = { species: speciesId, side: 'low', was: 4, is: taken };
    expect((await t.owner.post('/parcels/arrivals/limit/back', { ...back, was: -9 })).status).toBe(422);
    expect((await t.owner.post('/parcels/arrivals/limit/back', { ...back, is: 1 })).status).toBe(409);
    expect((await t.owner.post('/parcels/arrivals/limit/back', back)).status).toBe(303);
    expect(safeLow()).toBe(4);
    const notes = t.db.select().from(audit).all();
    expect(notes.map(({ action }) => action)).toEqual(['took a limit from arrivals', 'put a limit back']);
  });
});

const limits = { lethalLowC: 0, safeLowC: 4, idealLowC: 18, idealHighC: 24, safeHighC: 28, lethalHighC: 34 };
const many = (deadAt: (tempC: number) => number) =>
  Array.from({ length: 40 }, (_, i) => ({ tempC: 4 + i * 0.4, sent: 14, dead: deadAt(4 + i * 0.4) }));

describe('a limit from arrivals', () => {
  it.each([
    ['too little', many(() => 0), limits],
    [
      'no slope',
      many((tempC) => ([0, 5, 11, 17, 26, 33].includes(Math.round((tempC - 4) / 0.4)) ? 1 : 0)),
      limits,
    ],
    ['wrong way', many((tempC) => Math.max(0, Math.round(tempC - 12))), limits],
    ['between limits', many((tempC) => Math.max(0, Math.round(12 - tempC))), { ...limits, lethalLowC: 17 }],
  ] as const)('is none: %s', (why, arrivals, given) => {
    const lesson = learnLimit(arrivals, 'low', given);
    expect([lesson.proposal, lesson.why]).toEqual([null, why]);
  });

  it('against heat is rounded down, against cold up', () => {
    const cold = learnLimit(
      many((tempC) => Math.max(0, Math.round(11 - tempC))),
      'low',
      limits,
    ).proposal;
    expect(cold?.limitC).toBeGreaterThanOrEqual(cold?.tempC ?? Number.NaN);
    const warm = many((tempC) => Math.max(0, Math.round(tempC - 12))).map((one) => ({
      ...one,
      tempC: one.tempC + 14,
    }));
    const heat = learnLimit(warm, 'high', limits).proposal;
    expect(heat?.limitC).toBeLessThanOrEqual(heat?.tempC ?? Number.NaN);
  });
});
