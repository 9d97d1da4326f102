// `npm run prove -- nights`: a night passes for the service as it is really started, the longer one of the end of summer
// time, under a clock that is set back over it (Linux, libfaketime: `apt-get install faketime`). Some ten minutes: the
// service looks once a minute whether the night's work is due, and that minute is a real one.
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { listBackups } from '../../server/backups/shelf.ts';
import { shiftedClock, wrongLines } from './shifted-clock.ts';
import { pause } from './signed-in.ts';
import { endStage, makeStage, type Stage } from './storm.ts';
import { brokenIn } from './storm-left.ts';

const clock = shiftedClock();
let stage: Stage | null = null;
afterAll(() => {
  clock.end();
  if (stage) endStage(stage);
});

/** Two looks of the service, and the time a backup takes. */
const looksMs = 130_000;
const soonMs = 90_000;

it('does the work of a night once, whatever the clock does', async () => {
  stage = await makeStage();
  const shelf = join(stage.folder, 'backups');
  const nightly = () =>
    listBackups(shelf).filter(({ reason, provenAt }) => reason === 'nightly' && provenAt).length;
  const setTo = (instant: string) => clock.jump(Date.parse(instant) - Date.now());
  const becomes = async (count: number, what: string) => {
    const until = performance.now() + soonMs;
    while (nightly() < count && performance.now() < until) await pause(500);
    expect([what, nightly()]).toEqual([what, count]);
  };
  const stays = async (count: number, what: string) => {
    await pause(looksMs);
    expect([what, nightly()]).toEqual([what, count]);
  };
  // In Berlin summer time ends on 31 October 2027 at three o'clock, which is two o'clock once more.
  setTo('2027-10-30T12:00:00Z');
  let service = await clock.begin(stage.folder);
  await becomes(1, 'the first of all');
  setTo('2027-10-30T23:50:00Z');
  await stays(1, 'ten minutes before two');
  setTo('2027-10-31T00:05:00Z');
  await becomes(2, 'after two');
  setTo('2027-10-30T23:50:00Z');
  await stays(2, 'set back to before two');
  setTo('2027-10-31T01:05:00Z');
  await stays(2, 'after two for the second time');
  // A year ahead by mistake, for some minutes: that night is done too, and says nothing about the nights of now.
  setTo('2028-11-05T03:00:00Z');
  await becomes(3, 'a year ahead');
  setTo('2027-10-31T02:00:00Z');
  await stays(3, 'back again');
  const said = [service.said()];
  service.child.kill('SIGTERM');
  expect(await service.ended).toBe(0);
  service = await clock.begin(stage.folder);
  await stays(3, 'after a restart');
  setTo('2027-11-01T01:05:00Z');
  await becomes(4, 'the next night');
  await stays(4, 'the next night still');
  service.child.kill('SIGTERM');
  expect(await service.ended).toBe(0);
  said.push(service.said());
  expect(said.flatMap(wrongLines)).toEqual([]);
  expect(brokenIn(stage.database)).toEqual([]);
  const names = listBackups(shelf).map(({ name }) => name);
  console.log(`four nights, four backups: ${names.join(', ')}`);
}, 3_600_000);
