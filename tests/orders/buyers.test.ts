import { describe, expect, it } from 'vitest';
import { allocations } from '../../server/schema/tables.ts';
import { buyTheLastGroup, oversold, whatWentWrong } from '../support/buyers.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

describe('the last starter group', () => {
  it('goes to one of 64 who ask at the same instant, round after round', async () => {
    const app = await testApp();
    for (let round = 1; round <= 3; round++)
      expect(whatWentWrong(await buyTheLastGroup(app, 64)), `round ${round}`).toBeNull();
    expect(oversold(app)).toEqual([]);
  });

  it('is not split between mixed baskets: each gets all it asked for, or nothing', async () => {
    const app = await testApp();
    const kind = makeSpecies(app.db);
    const [a, b] = [makeCounted(app.db, kind.id, 80), makeCounted(app.db, kind.id, 80)];
    const baskets = Array.from({ length: 12 }, (_, index) => {
      const order = makeOrder(app.db);
      const line = makeLine(app.db, order.id, kind.id, { groups: 2 });
      const [one, two] = index % 2 === 0 ? [a, b] : [b, a];
      return {
        path: `/orders/${order.number}/reserve`,
        fields: { [`groups-${line.id}-${one.id}`]: 1, [`groups-${line.id}-${two.id}`]: 1 },
      };
    });
    await app.owner.csrf();
    const answers = await Promise.all(baskets.map(({ path, fields }) => app.owner.post(path, fields)));
    expect(answers.map((answer) => answer.status).sort()).toEqual([303, ...Array(11).fill(422)]);
    expect(app.db.select().from(allocations).all()).toHaveLength(2);
    expect(oversold(app)).toEqual([]);
  });
});
