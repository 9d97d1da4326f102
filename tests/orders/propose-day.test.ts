import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { allocations, cultureEstimates, orders } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { boxesOf } from './boxes.ts';

const day = '2026-12-01';
const path = `/orders/propose?day=${day}`;
const promises = ({ db }: TestApp) => db.select().from(allocations).all();

/** Drafts of one day, each for so many groups of one species, and cultures with so many animals. */
async function packingDay(groups: number[], counted: number[]) {
  const app = await testApp();
  const { id: speciesId } = makeSpecies(app.db);
  const stock = counted.map((animals) => makeCounted(app.db, animals, { speciesId }));
  const lines = groups.map((n) => {
    const order = makeOrder(app.db, { dispatchOn: day });
    return makeLine(app.db, order.id, speciesId, { groups: n });
  });
  const box = (line: number, culture: number) => `groups-${lines[line]!.id}-${stock[culture]!.id}`;
  return { app, speciesId, stock, lines, box };
}

const groupsOf = (boxes: Record<string, number>, lineId: number) =>
  Object.entries(boxes).reduce((sum, [name, n]) => sum + (name.startsWith(`groups-${lineId}-`) ? n : 0), 0);

describe('a proposal for a packing day', () => {
  it('covers its drafts and no others, and reserves for all of them exactly what it shows', async () => {
    const { app, speciesId, lines } = await packingDay([2, 1], [120, 80]);
    for (const more of [{ dispatchOn: '2026-12-02' }, { dispatchOn: day, state: 'cancelled' as const }, {}])
      makeLine(app.db, makeOrder(app.db, more).id, speciesId);
    const list = await app.owner.get('/orders');
    expect(list.text).toContain(`href="${path}"`);
    expect((await app.helper.get('/orders')).text).not.toContain(`href="${path}"`);
    const page = await app.owner.get(path);
    expect(page.status).toBe(200);
    expect(page.text).toContain('2 drafts that lack animals');
    expect(page.text).toContain('spare-taken');
    const boxes = boxesOf(page.text);
    expect(lines.map(({ id }) => groupsOf(boxes, id))).toEqual([2, 1]);
    const form = { day, ...boxes };
    const key = { formKey: 'the-whole-day-once-01' };
    const answer = await app.owner.post('/orders/propose', form, key);
    expect([answer.status, answer.headers.location]).toEqual([303, `/orders?from=${day}&to=${day}`]);
    expect((await app.owner.post('/orders/propose', form, key)).status).toBe(303);
    const made = promises(app).map((one) => [`groups-${one.orderLineId}-${one.cultureId}`, one.groups]);
    expect(Object.fromEntries(made)).toEqual(boxes);
    expect(promises(app)).toHaveLength(made.length);
    expect((await app.owner.get('/orders')).text).toContain('Reserved 3 groups (42 animals) for 2 orders.');
    expect((await app.owner.get(path)).text).toContain('No draft of this day lacks animals.');
  }, 30_000);

  it('serves the earlier order, unless a later one is said to be urgent', async () => {
    const { app, lines } = await packingDay([1, 1], [80]);
    const asked = async (more = '') => {
      const boxes = boxesOf((await app.owner.get(`${path}${more}`)).text);
      return lines.map(({ id }) => groupsOf(boxes, id));
    };
    expect(await asked()).toEqual([1, 0]);
    expect(await asked('&urgent-2=3')).toEqual([0, 1]);
    expect(await asked('&urgent-2=9')).toEqual([1, 0]);
    const urgent = (await app.owner.get(`${path}&urgent-2=3`)).text;
    expect(urgent).toContain('1 group that could be spared for it went to other orders');
    expect(urgent).toMatch(/type="hidden" name="urgent-2" value="3"/);
    expect(urgent).toContain(`/orders/propose?day=${day}&amp;urgent-2=3`);
  }, 30_000);

  it('reserves for all or for none: a culture was sold meanwhile', async () => {
    const { app, speciesId, stock, box } = await packingDay([1, 1], [80, 80]);
    const form = { [box(0, 0)]: 1, [box(1, 1)]: 1 };
    const other = makeOrder(app.db);
    const line = makeLine(app.db, other.id, speciesId);
    expect(
      (await app.owner.post('/orders/3/reserve', { [`groups-${line.id}-${stock[1]!.id}`]: 1 })).status,
    ).toBe(303);
    const before = promises(app);
    const late = await app.owner.post('/orders/propose', { day, ...form, 'urgent-1': 2 });
    expect(late.status).toBe(422);
    expect(late.text).toContain('Nothing is reserved yet, for no order.');
    expect(late.text).toContain(`Order 2, ${stock[1]!.code}: ${stock[1]!.code} `);
    expect(late.text).toContain(`href="${path.replace('&', '&amp;')}&amp;urgent-1=2"`);
    expect(boxesOf(late.text)).toEqual(form);
    expect(promises(app)).toEqual(before);
  });

  it('tells of each order what is wrong with it, and nothing typed is lost', async () => {
    const { app, stock, box } = await packingDay([2, 1], [80, 300]);
    const form = { day, [box(0, 0)]: 2, [box(1, 1)]: 3 };
    const wrong = await app.owner.post('/orders/propose', form);
    expect(wrong.text).toContain(`${stock[0]!.code} can spare 1 group now; 2 groups of 14 were asked for.`);
    expect(wrong.text).toContain('This line asks for 1 group: at most 1 more.');
    expect(boxesOf(wrong.text)).toEqual({ [box(0, 0)]: 2, [box(1, 1)]: 3 });
    const letters = await app.owner.post('/orders/propose', { ...form, [box(0, 0)]: 'two' });
    expect([letters.status, letters.text.includes('value="two"')]).toEqual([422, true]);
    expect((await app.owner.post('/orders/propose', { day })).text).toContain('Enter how many groups');
    const look = await app.owner.post('/orders/propose', { ...form, look: 'yes' });
    expect([look.status, look.text.includes('animals too few')]).toEqual([200, true]);
    expect(promises(app)).toHaveLength(0);
  });

  it('counts two orders of one culture in one form together, the adults too', async () => {
    const { app, box, stock } = await packingDay([1, 1], [80]);
    const both = await app.owner.post('/orders/propose', { day, [box(0, 0)]: 1, [box(1, 0)]: 1 });
    expect(both.status).toBe(422);
    expect(both.text).toMatch(
      new RegExp(`${stock[0]!.code} (can spare \\d+ animals? now, not a whole group|has nothing)`),
    );
    expect(promises(app)).toHaveLength(0);
  });

  it('notices that an order was changed, or is no draft any more', async () => {
    const { app, box } = await packingDay([1, 1], [80, 120]);
    app.db.update(orders).set({ state: 'cancelled' }).where(eq(orders.number, 2)).run();
    const form = { day, [box(0, 0)]: 1, [box(1, 1)]: 1 };
    const late = await app.owner.post('/orders/propose', form);
    expect(late.status).toBe(422);
    expect(late.text).toContain('An order of this page has changed meanwhile');
    expect(boxesOf(late.text)).toEqual({ [box(0, 0)]: 1 });
    expect(promises(app)).toHaveLength(0);
  });

  it('says how many drafts it has no room for, and that an estimate is of yesterday', async () => {
    const { app, speciesId, stock } = await packingDay([1], [80]);
    for (let i = 0; i < 9; i += 1) {
      const order = makeOrder(app.db, { dispatchOn: day });
      for (let position = 0; position < 30; position += 1)
        makeLine(app.db, order.id, speciesId, { position });
    }
    const shown = await app.owner.post('/orders/propose', { day, look: 'yes' });
    expect(shown.text).toContain('2 more drafts of this day have no room on');
    expect(shown.text).not.toContain('are of an earlier day');
    app.db.update(cultureEstimates).set({ asOf: '2026-11-24' }).run();
    const stale = await app.owner.post('/orders/propose', { day, look: 'yes' });
    expect(stale.text).toContain('Some estimates are of an earlier day');
    expect(stale.text).toContain(`from ${stock[0]!.code}`);
  });

  it('is the owner’s alone, and of a day', async () => {
    const { app, box } = await packingDay([1], [80]);
    const form = { day, [box(0, 0)]: 1 };
    expect((await app.helper.get(path)).status).toBe(403);
    expect((await app.helper.post('/orders/propose', form)).status).toBe(403);
    expect((await app.outsider.get(path)).status).toBe(303);
    expect((await app.owner.post('/orders/propose', form, { csrf: 'wrong' })).status).toBe(403);
    expect((await app.owner.post('/orders/propose', form, { formKey: 'short' })).status).toBe(400);
    const bare = await app.owner.get('/orders/propose');
    expect([bare.status, bare.headers.location]).toEqual([303, path]);
    for (const no of ['?day=', '?day=2026-02-30', '?day=tomorrow'])
      expect((await app.owner.get(`/orders/propose${no}`)).status, no).toBe(404);
    expect((await app.owner.post('/orders/propose', { ...form, day: 'x' })).status).toBe(404);
    expect(promises(app)).toHaveLength(0);
  });
});
