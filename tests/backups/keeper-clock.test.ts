import { afterAll, expect, it } from 'vitest';
import { makeKeeper } from '../../server/backups/keeper.ts';
import { testNow } from '../support/test-app.ts';
import { backupOf, clearFolders, filledFolder } from './shelf.ts';

afterAll(clearFolders);

it('makes one backup a night when the clock was far ahead for a while, and does not take it for late', async () => {
  const bench = await filledFolder();
  const { clock, db, database, shelf } = bench;
  const made: number[] = [];
  const keeper = makeKeeper({
    ...{ db, clock, database, shelf, log: { info: () => {}, error: () => {} }, hook: null },
    take: (taking) => {
      made.push(taking.now);
      return backupOf(bench, taking.now);
    },
  });
  const minute = 60_000;
  const day = 24 * 60 * minute;
  const lookAt = async (at: number) => {
    clock.at = at;
    keeper.look();
    await keeper.idle();
  };
  await lookAt(testNow);
  await lookAt(testNow + 400 * day);
  expect(made).toHaveLength(2);
  // back again: today's was made, and the next is tomorrow's
  for (let look = 1; look < 5; look += 1) await lookAt(testNow + 2 * look * minute);
  expect([made.length, keeper.isLate()]).toEqual([2, false]);
  for (let look = 0; look < 5; look += 1) await lookAt(testNow + day + 2 * look * minute);
  expect([made.length, keeper.isLate()]).toEqual([3, false]);
});
