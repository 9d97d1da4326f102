import { expect, it } from 'vitest';
import { feedersInThread } from '../../server/feeders/solve-in-thread.ts';
import { feeders } from '../../shared/feeders/feeders.ts';
import { feedersInput } from '../../shared/feeders/form.ts';

const question = (demand: number, weekStart = '2026-11-09') =>
  feedersInput.parse({
    weeks: [
      { weekStart: '2026-11-02', demand: 0 },
      { weekStart, demand },
    ],
    culture: { leadDays: 7, productiveDays: 7, yield: 150, seedAdults: 0 },
    safety: 1.2,
  });

it('answers as the calculation does, and solves the same question once', async () => {
  const asked = feedersInThread(question(100));
  expect(feedersInThread(question(100))).toBe(asked);
  expect(feedersInThread(question(300))).not.toBe(asked);
  expect(await asked).toEqual(await feeders(question(100)));
  expect((await asked).starts).toEqual([{ weekStart: '2026-11-02', cultures: 1 }]);
});

it('asks a question anew that broke', async () => {
  const broken = { ...question(100), weeks: [{ weekStart: 'no day', demand: 100 }] };
  const asked = feedersInThread(broken);
  await expect(asked).rejects.toThrow();
  const again = feedersInThread(broken);
  expect(again).not.toBe(asked);
  await expect(again).rejects.toThrow();
});
