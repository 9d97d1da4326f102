import { describe, expect, it, vi } from 'vitest';
import { pack, unpack } from '../../server/orders/pack.ts';
import type { By } from '../../server/orders/queries.ts';
import { release } from '../../server/orders/queries-release.ts';
import { reserve, reserveForAll } from '../../server/orders/reserve.ts';
import { addOrder, saveOrder } from '../../server/orders/save.ts';
import { cancel, confirm, markSent } from '../../server/orders/steps.ts';
import { once } from '../../server/plumbing/once.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { printOf, withFaultAt } from '../support/faults.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

vi.mock('../../shared/surplus/work-out.ts', async (original) => {
  const { workedOutOnce } = await import('../support/known-estimates.ts');
  return workedOutOnce(original);
});

const by: By = { personId: 'person-owner', now: testNow, today: testToday };
const act = ({ db }: TestApp, key: string, work: (tx: Db) => unknown) =>
  once(db, { key: key.padEnd(20, '-'), personId: by.personId, path: '/orders', now: testNow }, work);

/** Fails at each statement in turn; nothing may be left of it. Then does it for good. Says how many there were. */
function failEverywhere(app: TestApp, key: string, work: (tx: Db) => unknown): number {
  const before = printOf(app.sqlite);
  let at = 1;
  while (withFaultAt(app.sqlite, at, () => act(app, key, work))) {
    expect(app.sqlite.inTransaction, `${key}, statement ${at}`).toBe(false);
    expect(printOf(app.sqlite), `${key}, statement ${at}`).toBe(before);
    at += 1;
  }
  expect(printOf(app.sqlite), key).not.toBe(before);
  return at - 1;
}

describe('an order’s steps', () => {
  it('are done wholly or not at all, whichever statement fails', async () => {
    const app = await testApp();
    const kind = makeSpecies(app.db);
    const [a, b] = [makeCounted(app.db, kind.id, 120), makeCounted(app.db, kind.id, 120)];
    const order = makeOrder(app.db);
    const line = makeLine(app.db, order.id, kind.id, { groups: 2 });
    const wishes = [a, b].map(({ id }) => ({ lineId: line.id, cultureId: id, groups: 1 }));
    const ticked = [a, b].map(({ id }) => ({ pick: `${line.id}-${id}`, extras: 'juveniles' as const }));
    const counts = {
      reserve: failEverywhere(app, 'reserve', (tx) => reserve(tx, 1, wishes, null, by)),
      confirm: failEverywhere(app, 'confirm', (tx) => confirm(tx, 1, by, true)),
      pack: failEverywhere(app, 'pack', (tx) => pack(tx, 1, ticked, by)),
      unpack: failEverywhere(app, 'unpack', (tx) => unpack(tx, 1, by)),
      release: failEverywhere(app, 'release', (tx) => release(tx, 1, 3, by)),
      cancel: failEverywhere(app, 'cancel', (tx) => cancel(tx, 1, 'no reason', by)),
    };
    for (const [name, statements] of Object.entries(counts)) expect(statements, name).toBeGreaterThan(5);
  });

  it('so is a whole packing day', async () => {
    const app = await testApp();
    const kind = makeSpecies(app.db);
    const stock = [makeCounted(app.db, kind.id, 120), makeCounted(app.db, kind.id, 120)];
    const asked = stock.map(({ id: cultureId }, i) => {
      const line = makeLine(app.db, makeOrder(app.db).id, kind.id);
      return { number: i + 1, wishes: [{ lineId: line.id, cultureId, groups: 1 }] };
    });
    expect(failEverywhere(app, 'day', (tx) => reserveForAll(tx, asked, null, by))).toBeGreaterThan(10);
  });

  it('so are writing and changing one, and marking it sent', async () => {
    const app = await testApp();
    const kind = makeSpecies(app.db);
    const customer = makeCustomer(app.db).id;
    const head = { customer, note: 'a note' };
    const lines = [{ row: 0, species: kind.id, groups: 2 }];
    failEverywhere(app, 'add', (tx) => addOrder(tx, { head, lines }, 'EUR', by));
    const change = {
      head: { ...head, version: 1, note: 'another' },
      lines: [...lines, { ...lines[0]!, row: 1 }],
    };
    failEverywhere(app, 'save', (tx) => saveOrder(tx, 1, change, {}, by));
    app.sqlite.exec("UPDATE orders SET state = 'packed'");
    failEverywhere(app, 'sent', (tx) =>
      markSent(tx, 1, { sentOn: testToday, tracking: '', trackingLink: '', tell: true }, by),
    );
  });
});
