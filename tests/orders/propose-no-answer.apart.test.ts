import { beforeEach, describe, expect, it, vi } from 'vitest';
import { type Filled, fillInThread } from '../../server/orders/fill-in-thread.ts';
import { allocations } from '../../server/schema/tables.ts';
import { allocateInput } from '../../shared/orders/allocate-form.ts';
import { makeCounted } from '../support/counted.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

const instead = vi.hoisted(() => ({ answer: null as Filled | null }));
vi.mock('../../server/orders/fill-in-thread.ts', async (original) => {
  const real = await original<typeof import('../../server/orders/fill-in-thread.ts')>();
  return {
    ...real,
    fillInThread: async (...question: Parameters<typeof real.fillInThread>) =>
      instead.answer ?? real.fillInThread(...question),
  };
});

beforeEach(() => {
  instead.answer = null;
});

describe('where the solver gives no answer', () => {
  it.each([
    ['busy', 'Other proposals are being worked out just now.'],
    ['late', 'It took too long, so it was given up.'],
    ['too large', 'These are too many groups'],
    ['broken', 'The calculation broke down.'],
  ] as const)('the page says so and what can be done: %s', async (why, words) => {
    const app = await testApp();
    const { id } = makeSpecies(app.db);
    makeCounted(app.db, 80, { speciesId: id });
    makeLine(app.db, makeOrder(app.db, { dispatchOn: '2026-12-01' }).id, id);
    instead.answer = { answer: null, why };
    for (const path of ['/orders/1/propose', '/orders/propose?day=2026-12-01&urgent-1=2']) {
      const page = await app.owner.get(path);
      expect(page.status).toBe(503);
      expect(page.text).toContain(words);
      expect(page.text).toContain(`href="${path.replace('&', '&amp;')}"`);
      expect(page.text).toContain('Nothing is reserved.');
    }
    expect(app.db.select().from(allocations).all()).toEqual([]);
  });

  it('says how much better it could be where the time was over', async () => {
    const app = await testApp();
    const { id } = makeSpecies(app.db);
    makeLine(app.db, makeOrder(app.db).id, id);
    const { code } = makeCounted(app.db, 80, { speciesId: id });
    instead.answer = {
      answer: {
        allocations: [{ id: '1', code, groups: 1, animals: 14 }],
        unmet: [],
        optimal: false,
        gap: { groups: 2, cultures: 1, shareLeft: 0.123 },
      },
    };
    const { text } = await app.owner.get('/orders/1/propose');
    expect(text).toContain(
      'At most, 2 more groups might be filled; 1 culture fewer might do; the smallest rest in a culture might be larger, by up to 13 in 100',
    );
  });
});

describe('the thread', () => {
  const question = allocateInput.parse({
    wanted: [{ id: 'o1', species: 's', groups: 1, groupSize: 12 }],
    cultures: [{ code: 'A', species: 's', spare: 12 }],
  });

  it('lets few wait, turns the others away at once, and has room again when they are done', async () => {
    const all = await Promise.all(Array.from({ length: 8 }, () => fillInThread(question)));
    const answered = all.filter(({ answer }) => answer !== null);
    expect(answered.length).toBeGreaterThanOrEqual(2);
    expect(answered.length).toBeLessThan(8);
    expect(all.filter((one) => one.answer === null).every((one) => 'why' in one && one.why === 'busy')).toBe(
      true,
    );
    expect((await fillInThread(question)).answer?.allocations).toEqual([
      { id: 'o1', code: 'A', groups: 1, animals: 12 },
    ]);
  }, 30_000);

  it('tells of a question that is too large, and goes on', async () => {
    const large = allocateInput.parse({
      wanted: Array.from({ length: 60 }, (_, i) => ({
        id: `o${i}`,
        species: 's',
        groups: 1,
        groupSize: i + 1,
      })),
      cultures: Array.from({ length: 2_000 }, (_, i) => ({ code: `C${i}`, species: 's', spare: 99 })),
    });
    expect(await fillInThread(large)).toEqual({ answer: null, why: 'too large' });
    expect((await fillInThread(question)).answer?.optimal).toBe(true);
  }, 30_000);
});
