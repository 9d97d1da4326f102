import { asc, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { insertLine } from '../../server/lines/queries.ts';
import { allocations, audit, orderLines } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

/** A draft for unrelated starts, two cultures of the line dusk, one of dawn and two of none. */
async function draft(groups = 3) {
  const app = await testApp();
  const { id: speciesId } = makeSpecies(app.db);
  const lineOf = (name: string) => insertLine(app.db, { speciesId, name, locality: '', note: '' });
  const dusk = lineOf('dusk');
  const make = (lineId: number | null) => makeCounted(app.db, 160, { speciesId, lineId });
  const stock = {
    dusk1: make(dusk),
    dusk2: make(dusk),
    dawn: make(lineOf('dawn')),
    a: make(null),
    b: make(null),
  };
  const order = makeOrder(app.db);
  const line = makeLine(app.db, order.id, speciesId, { groups, separateLines: true });
  const take = (wanted: Partial<Record<keyof typeof stock, number>>) =>
    app.owner.post(
      '/orders/1/reserve',
      Object.fromEntries(
        Object.entries(wanted).map(([name, n]) => [`groups-${line.id}-${stock[name as 'a'].id}`, n]),
      ),
    );
  return { app, speciesId, stock, line, take };
}

const promises = ({ db }: TestApp) => db.select().from(allocations).orderBy(asc(allocations.id)).all();

describe('a line for unrelated starts', () => {
  it('takes one group from each line, a culture without a line being a line of its own', async () => {
    const { app, take } = await draft();
    expect((await take({ dusk1: 1, a: 1, b: 1 })).status).toBe(303);
    expect(promises(app)).toHaveLength(3);
    expect((await app.owner.get('/orders/1')).text).toContain(
      'Unrelated starts: each group from a different line of cultures',
    );
  });

  it('refuses two of one line beside the field, and says the way out', async () => {
    const { app, stock, take } = await draft();
    const { dusk1, dusk2, a } = stock;
    const wayOut =
      'Take each group from a different line of cultures, or untick “Unrelated starts” on the order.';
    const two = await take({ dusk1: 1, dusk2: 1, a: 1 });
    expect(two.status).toBe(422);
    expect(two.text).toContain(`${dusk2.code} and ${dusk1.code} are both of line dusk. ${wayOut}`);
    expect(two.text).toMatch(new RegExp(`name="groups-1-${dusk2.id}"[^>]*value="1"`));
    expect((await take({ a: 2 })).text).toContain(
      `unrelated starts, and ${a.code} is of one line. ${wayOut}`,
    );
    expect(promises(app)).toHaveLength(0);
    await take({ dusk1: 1, a: 1 });
    const page = (await app.owner.get('/orders/1')).text;
    expect(page).toContain(
      `This asks for unrelated starts: ${dusk2.code} and ${dusk1.code} are both of line dusk`,
    );
    expect((await take({ dusk2: 1 })).text).toContain('are both of line dusk');
    expect((await take({ a: 1 })).text).toContain(`${a.code} has given it a group already`);
    expect((await take({ b: 1 })).status).toBe(303);
  });

  it('can be unticked on the order, and then one line will do', async () => {
    const { app, line, take } = await draft(2);
    const form = {
      customer: 1,
      version: 1,
      'line-0': line.id,
      'species-0': 1,
      'groups-0': 2,
      'price-0': 12.5,
    };
    expect((await app.owner.get('/orders/1/edit')).text).toMatch(/name="separateLines-0"[^>]* checked/);
    expect((await app.owner.post('/orders/1', form)).status).toBe(303);
    expect(app.db.select().from(orderLines).get()?.separateLines).toBe(false);
    expect(app.db.select().from(audit).where(eq(audit.subject, 'order 1')).get()?.before).toContain(
      'unrelated starts',
    );
    expect((await take({ a: 2 })).status).toBe(303);
  });

  it('is not ticked over reservations that are none, and the form comes back ticked', async () => {
    const { app, stock, line, take } = await draft(2);
    const at = { customer: 1, 'line-0': line.id, 'species-0': 1, 'groups-0': 2, 'price-0': 12.5 };
    await app.owner.post('/orders/1', { ...at, version: 1 });
    await take({ dusk1: 1, dusk2: 1 });
    const version =
      /name="version" value="(\d+)"/.exec((await app.owner.get('/orders/1/edit')).text)?.[1] ?? '';
    const ticked = await app.owner.post('/orders/1', { ...at, version, 'separateLines-0': 'yes' });
    expect(ticked.status).toBe(422);
    expect(ticked.text).toContain(
      `Groups of ${stock.dusk1.code} and ${stock.dusk2.code}, both of line dusk, are reserved on this line. Release one of them first.`,
    );
    expect(ticked.text).toMatch(/name="separateLines-0"[^>]* checked/);
    const id = promises(app)[0]?.id ?? 0;
    await app.owner.post('/orders/1/release', { allocation: id });
    expect((await app.owner.post('/orders/1', { ...at, version, 'separateLines-0': 'yes' })).status).toBe(
      303,
    );
  });

  it('is written down with a new order, and comes out with everything', async () => {
    const { db, owner, helper } = await testApp();
    const kind = makeSpecies(db);
    const order = {
      customer: makeCustomer(db).id,
      'species-0': kind.id,
      'groups-0': 2,
      'separateLines-0': 'yes',
      'species-1': kind.id,
      'groups-1': 1,
    };
    expect((await owner.post('/orders', { ...order, 'separateLines-1': 'maybe' })).status).toBe(422);
    expect((await owner.post('/orders', order)).status).toBe(303);
    expect(db.select().from(orderLines).all()).toMatchObject([
      { separateLines: true },
      { separateLines: false },
    ]);
    const more = await owner.post('/orders', { ...order, more: 'yes' });
    expect(more.text).toMatch(/name="separateLines-0"[^>]* checked/);
    expect((await helper.get('/orders/1')).status).toBe(200);
    const everything = await owner.get('/records/export/order-lines.csv');
    expect([everything.status, everything.text.split('\r\n')[1]]).toEqual([
      200,
      expect.stringMatching(/,yes,no$/),
    ]);
  });

  it('is told to whoever packs', async () => {
    const { app, take } = await draft(2);
    await take({ dusk1: 1, dawn: 1 });
    await app.owner.post('/orders/1/confirm');
    expect((await app.helper.get('/orders/1/pack')).text).toContain(
      'each cup from a different line of cultures',
    );
    expect((await app.owner.bytes('/orders/1/packing-sheet.pdf')).status).toBe(200);
  });
});
