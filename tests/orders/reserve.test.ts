import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { allocations, cultureEstimates, cultures, orderHistory, orders } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeEstimate, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

/** A draft of `groups` groups, and a culture of the species in which `animals` were counted today. */
async function draft(groups: number, animals: number) {
  const app = await testApp();
  const kind = makeSpecies(app.db);
  const culture = makeCounted(app.db, kind.id, animals);
  const order = makeOrder(app.db);
  const line = makeLine(app.db, order.id, kind.id, { groups });
  const field = (cultureId = culture.id) => `groups-${line.id}-${cultureId}`;
  return { app, kind, culture, order, line, field, path: `/orders/${order.number}` };
}

const promises = ({ db }: TestApp) => db.select().from(allocations).all();
const estimate = ({ db }: TestApp, id: number) =>
  db.select().from(cultureEstimates).where(eq(cultureEstimates.cultureId, id)).get();
const state = ({ db }: TestApp) => db.select().from(orders).get()?.state;

describe('reserving by hand', () => {
  it('shows what each culture can spare, promises groups with their extras, and the estimate follows', async () => {
    const { app, culture, field, path } = await draft(2, 120);
    const before = await app.owner.get(path);
    expect(before.text).toContain(culture.code);
    expect(before.text).toContain('<strong>3 groups</strong>');
    expect(before.text).toContain('Counted');
    expect(before.text).not.toContain('Confirm the order');
    const answer = await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    expect([answer.status, answer.headers.location]).toEqual([303, path]);
    expect(promises(app)).toMatchObject([
      { groups: 1, animals: 14, state: 'reserved', overrideReason: null, madeBy: 'person-owner' },
    ]);
    expect(estimate(app, culture.id)?.spareAnimals).toBe((culture.estimate.spareAnimals ?? 0) - 14);
    const half = await app.owner.get(path);
    expect(half.text).toContain('Reserved 1 group (14 animals)');
    expect(half.text).toContain('1 of 2 reserved');
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    const all = await app.owner.get(path);
    expect(all.text).toContain('All groups are reserved: the order can be confirmed.');
    expect(all.text).toContain('Confirm the order');
    const notes = app.db.select().from(orderHistory).all();
    expect(notes.map((step) => step.note)).toEqual([
      `Reserved 1 group (14 animals) from ${culture.code}.`,
      `Reserved 1 group (14 animals) from ${culture.code}.`,
    ]);
  });

  it('says how many are still spare, and keeps what was typed', async () => {
    const { app, kind, culture, field, path } = await draft(4, 80);
    const second = makeCounted(app.db, kind.id, 120);
    const answer = await app.owner.post(`${path}/reserve`, {
      [field()]: 2,
      [field(second.id)]: '2',
      overrideReason: 'a half-written reason',
    });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain(`${culture.code} can spare 1 group now; 2 groups of 14 were asked for.`);
    expect(new RegExp(`name="${field(second.id)}"[^>]*value="2"`).test(answer.text)).toBe(true);
    expect(answer.text).toContain('value="a half-written reason"');
    expect(promises(app)).toHaveLength(0);
    expect(app.db.select().from(orderHistory).all()).toHaveLength(0);
    expect(estimate(app, second.id)).toEqual(second.estimate);
  });

  it('is bound by the line and by whole numbers', async () => {
    const { app, culture, field, path } = await draft(2, 300);
    const words = async (groups: string | number) =>
      (await app.owner.post(`${path}/reserve`, { [field()]: groups })).text;
    expect(await words(3)).toContain('This line asks for 2 groups: at most 2 more.');
    expect(await words('1.5')).toContain('Write a whole number, such as 12.');
    expect(await words('-1')).toContain('Must be between 0 and 1000.');
    expect(await words('two')).toContain('value="two"');
    expect(await words('')).toContain('Enter how many groups to take');
    expect(await words(0)).toContain('Enter how many groups to take');
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    expect(await words(2)).toContain('and 1 is reserved already: at most 1 more.');
    expect(promises(app)).toHaveLength(1);
    expect(culture.status).toBe('active');
  });

  it('knows when a form was made up', async () => {
    const { app, line, path } = await draft(2, 120);
    const stranger = makeCounted(app.db, makeSpecies(app.db).id, 120);
    const other = makeOrder(app.db);
    const otherLine = makeLine(app.db, other.id, stranger.speciesId);
    for (const name of [
      `groups-${line.id}-${stranger.id}`,
      `groups-${line.id}-99999`,
      `groups-${otherLine.id}-${stranger.id}`,
    ]) {
      const answer = await app.owner.post(`${path}/reserve`, { [name]: 1 });
      expect([answer.status, name]).toEqual([422, name]);
    }
    expect(promises(app)).toHaveLength(0);
  });

  it('takes the same form once', async () => {
    const { app, field, path } = await draft(2, 120);
    const form = { [field()]: 1 };
    await app.owner.csrf();
    const send = () => app.owner.post(`${path}/reserve`, form, { formKey: 'reserve-this-once-01' });
    for (const answer of [await send(), await send(), ...(await Promise.all([send(), send(), send()]))])
      expect(answer.status).toBe(303);
    expect(promises(app)).toHaveLength(1);
  });

  it('counts twice when two lines draw on one culture in one form', async () => {
    const { app, kind, culture, order, field, path } = await draft(1, 80);
    const second = makeLine(app.db, order.id, kind.id, { position: 1 });
    const answer = await app.owner.post(`${path}/reserve`, {
      [field()]: 1,
      [`groups-${second.id}-${culture.id}`]: 1,
    });
    expect(answer.status).toBe(422);
    expect(answer.text).toMatch(/can spare \d animals now, not a whole group; 1 group of 14 was asked for/);
    expect(promises(app)).toHaveLength(0);
  });

  it('looks at the adults too, where the make-up is the species’ own', async () => {
    const app = await testApp();
    const kind = makeSpecies(app.db);
    const culture = makeCulture(app.db, { speciesId: kind.id });
    makeEstimate(app.db, culture.id, { promisable: 100, spareAnimals: 100, spareGroups: 1 });
    const order = makeOrder(app.db);
    const line = makeLine(app.db, order.id, kind.id, { groups: 2 });
    const answer = await app.owner.post('/orders/1/reserve', { [`groups-${line.id}-${culture.id}`]: 2 });
    expect(answer.text).toContain(`${culture.code} can spare 1 group now`);
  });

  it('brings yesterday’s estimate up to date before it promises', async () => {
    const { app, culture, field, path } = await draft(1, 80);
    appendEntry(app.db, {
      cultureId: culture.id,
      onDay: testToday,
      kind: 'harvest',
      animals: 40,
      via: 'page',
      madeBy: null,
      madeAt: testNow,
    });
    app.db.update(cultureEstimates).set({ asOf: '2026-11-24' }).run();
    const answer = await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain(`${culture.code} has nothing to spare now`);
  });

  it('promises nothing from a culture in quarantine, whatever the reason', async () => {
    const { app, culture, field, path } = await draft(1, 120);
    app.db.update(cultures).set({ status: 'quarantine' }).where(eq(cultures.id, culture.id)).run();
    const answer = await app.owner.post(`${path}/reserve`, {
      [field()]: 1,
      override: 'yes',
      overrideReason: 'they look fine',
    });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain(`${culture.code} is in quarantine: nothing is sold from it.`);
    expect(promises(app)).toHaveLength(0);
  });

  it('needs a draft', async () => {
    const { app, field, path } = await draft(1, 120);
    app.db.update(orders).set({ state: 'cancelled' }).run();
    const answer = await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    expect(answer.status).toBe(409);
    expect(answer.text).toContain('is no longer a draft');
  });
});

describe('the owner’s decision to promise more', () => {
  it('needs a reason, which is kept, and only where the groups are not spare', async () => {
    const { app, kind, culture, field, path } = await draft(4, 80);
    const second = makeCounted(app.db, kind.id, 120);
    const form = { [field()]: 2, [field(second.id)]: 1, override: 'yes' };
    const without = await app.owner.post(`${path}/reserve`, { ...form, overrideReason: ' x ' });
    expect(without.status).toBe(422);
    expect(without.text).toContain('Write why, in a few words.');
    expect(
      (await app.owner.post(`${path}/reserve`, { ...form, overrideReason: 'the culture is being closed' }))
        .status,
    ).toBe(303);
    expect(promises(app)).toMatchObject([
      { cultureId: culture.id, animals: 28, overrideReason: 'the culture is being closed' },
      { cultureId: second.id, animals: 14, overrideReason: null },
    ]);
    const page = await app.owner.get(path);
    expect(page.text).toContain('Olive Owner decided: “the culture is being closed”');
    expect(app.db.select().from(orderHistory).all()[0]?.note).toContain('the culture is being closed');
  });
});

describe('releasing', () => {
  it('frees the animals, and a confirmed order is a draft again', async () => {
    const { app, culture, field, path } = await draft(1, 80);
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    expect((await app.owner.post(`${path}/confirm`)).status).toBe(303);
    expect(state(app)).toBe('confirmed');
    const spare = estimate(app, culture.id)?.spareGroups;
    const id = promises(app)[0]?.id ?? 0;
    const key = { formKey: 'release-this-once-01' };
    expect((await app.owner.post(`${path}/release`, { allocation: id }, key)).status).toBe(303);
    expect((await app.owner.post(`${path}/release`, { allocation: id }, key)).status).toBe(303);
    expect(promises(app)).toMatchObject([{ state: 'released' }]);
    expect(state(app)).toBe('draft');
    expect([spare, estimate(app, culture.id)?.spareGroups]).toEqual([0, 1]);
    expect((await app.owner.post(`${path}/release`, { allocation: id })).status).toBe(404);
    expect((await app.owner.get(path)).text).toContain('The order is a draft again.');
    expect((await app.owner.post(`${path}/reserve`, { [field()]: 1 })).status).toBe(303);
  });

  it('releases nothing of another order', async () => {
    const { app, kind, field, path } = await draft(1, 80);
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    const other = makeOrder(app.db);
    makeLine(app.db, other.id, kind.id);
    const id = promises(app)[0]?.id ?? 0;
    expect((await app.owner.post(`/orders/${other.number}/release`, { allocation: id })).status).toBe(404);
    expect((await app.owner.post(`${path}/release`, { allocation: 'x' })).status).toBe(404);
    expect(promises(app)).toMatchObject([{ state: 'reserved' }]);
  });
});

describe('confirming and cancelling', () => {
  it('confirms only what is wholly reserved', async () => {
    const { app, field, path } = await draft(2, 120);
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    const early = await app.owner.post(`${path}/confirm`);
    expect(early.status).toBe(409);
    expect(early.text).toContain('1 group of order 1 is not reserved yet.');
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    const key = { formKey: 'confirm-this-once-01' };
    expect((await app.owner.post(`${path}/confirm`, {}, key)).status).toBe(303);
    expect((await app.owner.post(`${path}/confirm`, {}, key)).status).toBe(303);
    expect((await app.owner.post(`${path}/confirm`)).status).toBe(409);
    const empty = makeOrder(app.db);
    expect((await app.owner.post(`/orders/${empty.number}/confirm`)).status).toBe(409);
  });

  it('frees the animals of a cancelled order, for the next to take', async () => {
    const { app, culture, field, path } = await draft(1, 80);
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    await app.owner.post(`${path}/confirm`);
    expect(estimate(app, culture.id)?.spareGroups).toBe(0);
    const key = { formKey: 'cancel-this-once-001' };
    const answer = await app.owner.post(`${path}/cancel`, { reason: 'moved house' }, key);
    expect(answer.status).toBe(303);
    expect((await app.owner.post(`${path}/cancel`, { reason: 'moved house' }, key)).status).toBe(303);
    expect(state(app)).toBe('cancelled');
    expect(promises(app)).toMatchObject([{ state: 'released' }]);
    expect(estimate(app, culture.id)?.spareGroups).toBe(1);
    const page = await app.owner.get(path);
    expect(page.text).toContain('1 group set free. moved house');
    expect((await app.owner.post(`${path}/cancel`)).status).toBe(409);
    const next = makeOrder(app.db);
    const line = makeLine(app.db, next.id, culture.speciesId);
    const taken = await app.owner.post(`/orders/${next.number}/reserve`, {
      [`groups-${line.id}-${culture.id}`]: 1,
    });
    expect(taken.status).toBe(303);
  });

  it('keeps a promise when trouble is seen, says so, and lets no other be made', async () => {
    const { app, culture, field, path } = await draft(1, 80);
    await app.owner.post(`${path}/reserve`, { [field()]: 1 });
    appendEntry(app.db, {
      cultureId: culture.id,
      onDay: testToday,
      kind: 'mites',
      via: 'page',
      madeBy: null,
      madeAt: testNow,
    });
    refreshEstimate(app.db, culture.id, testToday, testNow);
    expect(promises(app)).toMatchObject([{ state: 'reserved' }]);
    const page = await app.owner.get(path);
    expect(page.text).toContain('Mites were seen in it.');
    const other = makeOrder(app.db);
    const line = makeLine(app.db, other.id, culture.speciesId);
    const answer = await app.owner.post(`/orders/${other.number}/reserve`, {
      [`groups-${line.id}-${culture.id}`]: 1,
    });
    expect(answer.text).toContain(`${culture.code} has nothing to spare now`);
  });
});

describe('the database itself', () => {
  it('refuses more animals than were spare, and lets a promise end once', async () => {
    const { app, culture, line } = await draft(2, 80);
    const promise = (animals: number) =>
      app.db
        .insert(allocations)
        .values({
          orderLineId: line.id,
          cultureId: culture.id,
          groups: 1,
          animals,
          state: 'reserved',
          madeAt: testNow,
        })
        .run();
    const { promisable } = culture.estimate;
    expect(() => promise(promisable + 1)).toThrow('not that many animals are spare');
    promise(promisable);
    expect(() => promise(1)).toThrow('not that many animals are spare');
    app.db.update(allocations).set({ state: 'released' }).run();
    expect(() => app.db.update(allocations).set({ state: 'reserved' }).run()).toThrow('released once');
    expect(() => app.db.delete(allocations).run()).toThrow('promises are released, not deleted');
    expect(() => app.db.delete(orders).run()).toThrow('orders are kept');
  });
});
