import { asc, eq } from 'drizzle-orm';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { insertLine } from '../../server/lines/queries.ts';
import { keepApart } from '../../server/lines/queries-apart.ts';
import { draftOf, questionOf, stockFor, wishesIn } from '../../server/orders/drafts.ts';
import { loadOrder } from '../../server/orders/queries.ts';
import { type OrderWishes, reserveForAll } from '../../server/orders/reserve.ts';
import { allocations, cultures, orders } from '../../server/schema/tables.ts';
import { purities } from '../../shared/lines/page-apart.ts';
import { allocate } from '../../shared/orders/allocate.ts';
import { makeCounted } from '../support/counted.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeEstimate, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';
import { boxesOf } from './boxes.ts';

const promises = ({ db }: TestApp) => db.select().from(allocations).orderBy(asc(allocations.id)).all();
const promisedBoxes = (app: TestApp) =>
  Object.fromEntries(promises(app).map((one) => [`groups-${one.orderLineId}-${one.cultureId}`, one.groups]));

async function draft(groups: number, counted: number[]) {
  const app = await testApp();
  const { id: speciesId } = makeSpecies(app.db);
  const stock = counted.map((animals) => makeCounted(app.db, animals, { speciesId }));
  const order = makeOrder(app.db);
  const line = makeLine(app.db, order.id, speciesId, { groups });
  return { app, speciesId, stock, line, path: '/orders/1/propose' };
}

describe('a proposal for one order', () => {
  it('is worked out in its thread, and reserves exactly what it shows', async () => {
    const { app, stock, path } = await draft(3, [80, 120, 160]);
    expect((await app.owner.get('/orders/1')).text).toContain(`href="${path}"`);
    const page = await app.owner.get(path);
    expect(page.status).toBe(200);
    expect(page.text).toContain('No better way can be found');
    expect(page.text).toContain('What it leaves');
    const boxes = boxesOf(page.text);
    expect(Object.values(boxes).reduce((sum, n) => sum + n, 0)).toBe(3);
    expect(promises(app)).toHaveLength(0);
    // The others could give too, and stand there with 0.
    for (const { id } of stock) expect(page.text).toContain(`name="groups-1-${id}"`);
    const key = { formKey: 'the-proposal-once-01' };
    expect((await app.owner.post(path, boxes, key)).headers.location).toBe('/orders/1');
    expect((await app.owner.post(path, boxes, key)).status).toBe(303);
    expect(promisedBoxes(app)).toEqual(boxes);
    const done = await app.owner.get('/orders/1');
    expect(done.text).toContain('All groups are reserved: the order can be confirmed.');
    expect((await app.owner.get(path)).headers.location).toBe('/orders/1');
  }, 30_000);

  it('says what is not filled and why, and what to do where nothing can be given', async () => {
    const { app, path } = await draft(9, [80]);
    const page = await app.owner.get(path);
    expect(page.text).toContain('8 groups, because only 1 group of 14 can be spared.');
    const none = makeOrder(app.db);
    makeLine(app.db, none.id, makeSpecies(app.db).id);
    expect((await app.owner.get('/orders/2/propose')).text).toContain(
      '1 group, because no culture of this species is offered.',
    );
  }, 30_000);

  it('keeps what was changed by hand, with a word beside each box that cannot be', async () => {
    const { app, stock, path } = await draft(4, [80, 120]);
    const [small, large] = stock as [(typeof stock)[0], (typeof stock)[0]];
    const form = { [`groups-1-${small.id}`]: 2, [`groups-1-${large.id}`]: 'x' };
    const wrong = await app.owner.post(path, form);
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('Write a whole number');
    expect(wrong.text).toContain('value="x"');
    const more = await app.owner.post(path, { ...form, [`groups-1-${large.id}`]: 2 });
    expect(more.text).toContain(`${small.code} can spare 1 group now; 2 groups of 14 were asked for.`);
    expect(boxesOf(more.text)).toEqual({ [`groups-1-${small.id}`]: 2, [`groups-1-${large.id}`]: 2 });
    expect((await app.owner.post(path, {})).text).toContain('Enter how many groups');
    expect(promises(app)).toHaveLength(0);
  });

  it('shows what other groups would leave, and reserves nothing by that', async () => {
    const { app, stock, path } = await draft(2, [120]);
    const look = await app.owner.post(path, { [`groups-1-${stock[0]!.id}`]: 2, look: 'yes' });
    expect(look.status).toBe(200);
    expect(look.text).toContain('What it leaves');
    expect(boxesOf(look.text)).toEqual({ [`groups-1-${stock[0]!.id}`]: 2 });
    const over = await app.owner.post(path, { [`groups-1-${stock[0]!.id}`]: 9, look: 'yes' });
    expect(over.text).toContain('animals too few');
    expect(promises(app)).toHaveLength(0);
  });

  it('says when a culture was sold meanwhile, and shows it although it has nothing to spare', async () => {
    const { app, speciesId, stock, path } = await draft(1, [80]);
    const box = { [`groups-1-${stock[0]!.id}`]: 1 };
    const other = makeOrder(app.db);
    makeLine(app.db, other.id, speciesId);
    expect((await app.owner.post('/orders/2/reserve', { [`groups-2-${stock[0]!.id}`]: 1 })).status).toBe(303);
    const late = await app.owner.post(path, box);
    expect(late.status).toBe(422);
    expect(late.text).toMatch(
      new RegExp(`${stock[0]!.code} can spare \\d+ animals? now|has nothing to spare`),
    );
    expect(boxesOf(late.text)).toEqual(box);
  });

  it('is the owner’s alone, for drafts alone', async () => {
    const { app, path } = await draft(1, [80]);
    expect((await app.helper.get(path)).status).toBe(403);
    expect((await app.helper.post(path)).status).toBe(403);
    expect((await app.outsider.get(path)).status).toBe(303);
    expect((await app.owner.post(path, {}, { csrf: 'wrong' })).status).toBe(403);
    expect((await app.owner.post(path, { 'groups-1-1': 1 }, { formKey: 'short' })).status).toBe(400);
    for (const number of ['2', 'abc', '-1']) {
      expect((await app.owner.get(`/orders/${number}/propose`)).status).toBe(404);
      expect((await app.owner.post(`/orders/${number}/propose`)).status).toBe(404);
    }
    app.db.update(orders).set({ state: 'cancelled' }).run();
    expect((await app.owner.get(path)).headers.location).toBe('/orders/1');
    expect((await app.owner.post(path, { 'groups-1-1': 1 })).status).toBe(409);
    expect(promises(app)).toHaveLength(0);
  });

  it('takes unrelated starts from different lines', async () => {
    const { app, speciesId, path } = await draft(1, []);
    const lineOf = (name: string) => insertLine(app.db, { speciesId, name, locality: '', note: '' });
    const [dusk, dawn] = [lineOf('dusk'), lineOf('dawn')];
    for (const lineId of [dusk, dusk, dawn, null]) makeCounted(app.db, 200, { speciesId, lineId });
    makeLine(app.db, 1, speciesId, { groups: 4, separateLines: true, position: 1 });
    const boxes = boxesOf((await app.owner.get(path)).text);
    const taken = Object.entries(boxes).filter(([name]) => name.startsWith('groups-2-'));
    const lineIds = taken.map(([name]) => {
      const id = Number(name.split('-')[2]);
      return app.db.select().from(cultures).where(eq(cultures.id, id)).get()?.lineId;
    });
    expect([...lineIds].sort()).toEqual([dusk, dawn, null].sort());
    expect((await app.owner.post(path, boxes)).status).toBe(303);
  }, 30_000);
});

/** Small stocks of one species, whose lines are marked in any way, and orders that may have some groups already. */
const smallStock = fc.record({
  lines: fc.array(
    fc.record({ keptPure: fc.constantFrom(...purities), locality: fc.constantFrom('', 'north') }),
    {
      minLength: 1,
      maxLength: 3,
    },
  ),
  apart: fc.boolean(),
  cultures: fc.array(
    fc.record({
      line: fc.integer({ min: -1, max: 2 }),
      promisable: fc.integer({ min: 0, max: 70 }),
      adults: fc.integer({ min: 0, max: 5 }),
    }),
    { minLength: 1, maxLength: 6 },
  ),
  orders: fc.array(
    fc.record({
      groups: fc.integer({ min: 1, max: 4 }),
      separateLines: fc.boolean(),
      own: fc.boolean(),
      first: fc.integer({ min: 0, max: 5 }),
    }),
    { minLength: 1, maxLength: 4 },
  ),
});

describe('whatever is proposed', () => {
  it('reserve accepts: lines kept apart, unrelated starts, too few adults, several orders of one culture', async () => {
    const app = await testApp();
    const by = { personId: 'person-owner', now: testNow, today: testToday };
    let filled = 0;
    await fc.assert(
      fc.asyncProperty(smallStock, async (plan) => {
        app.sqlite.exec('BEGIN');
        try {
          const { id: speciesId } = makeSpecies(app.db);
          const lineIds = plan.lines.map(({ keptPure, locality }, i) =>
            insertLine(app.db, { speciesId, name: `line${i}`, locality, note: '', keptPure }),
          );
          if (plan.apart && lineIds[1]) keepApart(app.db, lineIds[0]!, [lineIds[1]]);
          const stock = plan.cultures.map(({ line, promisable, adults }) => {
            const culture = makeCulture(app.db, { speciesId, lineId: lineIds[line] ?? null, placeId: null });
            const spareGroups = Math.min(adults, Math.floor(promisable / 14));
            makeEstimate(app.db, culture.id, { promisable, spareAnimals: promisable, spareGroups });
            return culture;
          });
          const made = plan.orders.map(({ groups, separateLines, own, first }) => {
            const order = makeOrder(app.db);
            const makeUp = own ? {} : { groupAdults: 4, groupJuveniles: 2, groupExtras: 0 };
            const line = makeLine(app.db, order.id, speciesId, { groups, separateLines, ...makeUp });
            const from = stock[first];
            const wishes = from ? [{ lineId: line.id, cultureId: from.id, groups: 1 }] : [];
            // Something is there already, where it can be.
            try {
              app.db.transaction((tx) => reserveForAll(tx, [{ number: order.number, wishes }], null, by));
            } catch {}
            return order.number;
          });
          const drafts = made.map((number) => draftOf(app.db, loadOrder(app.db, number)));
          const stockNow = stockFor(app.db, drafts);
          const answer = await allocate(questionOf(app.db, { drafts, stock: stockNow, priorityOf: () => 1 }));
          const wishes = wishesIn(answer, stockNow);
          const asked: OrderWishes[] = drafts.map(({ number, lines }) => ({
            number,
            wishes: wishes.filter((wish) => lines.some(({ line }) => line.id === wish.lineId)),
          }));
          const reserved = reserveForAll(app.db, asked, null, by);
          expect(reserved.reduce((sum, one) => sum + one.groups, 0)).toBe(
            wishes.reduce((sum, one) => sum + one.groups, 0),
          );
          filled += wishes.length;
        } finally {
          app.sqlite.exec('ROLLBACK');
        }
      }),
      { numRuns: 60 },
    );
    expect(filled).toBeGreaterThan(60);
  }, 60_000);
});
