// `npm run prove -- jumps`: the service as it is really started, under a clock that jumps while people work (Linux,
// libfaketime: `apt-get install faketime`). Only the time of day jumps; Node's own waiting goes by a clock that does not.
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { hashPassword } from '../../server/plumbing/passwords.ts';
import { goodPassword } from '../support/sign-in.ts';
import { cast } from '../support/test-app.ts';
import { shiftedClock, wrongLines } from './shifted-clock.ts';
import { pause, SignedIn } from './signed-in.ts';
import { endStage, makeStage, type Running, type Stage } from './storm.ts';
import { brokenIn, marksIn } from './storm-left.ts';

const eachMs = Number(process.env.JUMPS_MS ?? 15_000);
const hour = 3_600_000;
const day = 24 * hour;

const clock = shiftedClock();
let stage: Stage | null = null;
afterAll(() => {
  clock.end();
  if (stage) endStage(stage);
});
const { jump, begin } = clock;

type Form = { cookie: string; body: URLSearchParams };

/** The sign-in form as a browser that nobody knows holds it, so that it can be sent more than once. */
async function signInForm({ address }: Running): Promise<Form> {
  const page = await fetch(`${address}/sign-in`);
  const token = /name="_csrf" value="([^"]+)"/.exec(await page.text())?.[1] ?? '';
  const [cookie = ''] = page.headers.getSetCookie();
  const fields = { signInName: cast.owner.signInName, password: goodPassword };
  const body = new URLSearchParams({ _csrf: token, formKey: crypto.randomUUID(), ...fields });
  return { cookie: cookie.split(';')[0] ?? '', body };
}

async function send({ address }: Running, { cookie, body }: Form): Promise<string> {
  const options = { method: 'POST', body, headers: { cookie }, redirect: 'manual' } as const;
  const answer = await fetch(`${address}/sign-in`, options);
  expect([answer.status, answer.headers.get('location')]).toEqual([303, '/']);
  return (
    answer.headers
      .getSetCookie()
      .find((line) => line.startsWith('broodbench='))
      ?.split(';')[0] ?? ''
  );
}

/** Whether a session lets in, and what time the service says it is. */
async function look({ address }: Running, cookie: string) {
  const page = await fetch(`${address}/account`, { headers: { cookie }, redirect: 'manual' });
  await page.text();
  return { isIn: page.status === 200, at: Number(page.headers.get('made-at') ?? 0) };
}

type Tally = { asked: number; wrong: string[]; acknowledged: string[]; turnedAway: number };
const pages = ['/round', '/cultures', '/orders', '/surplus', '/people', '/settings/changes'];

/** Six people who read and write until it is enough; whoever is not let in any more stops. */
async function work(at: Stage, { address }: Running, cookie: string, mark: string, tally: Tally) {
  const until = performance.now() + eachMs;
  const one = async (index: number) => {
    const person = new SignedIn(address, cookie);
    for (let count = 0; performance.now() < until; count += 1) {
      const note = `mark ${mark}-${index}-${count}.`;
      const { code } = at.cultures[(index + count) % at.cultures.length]!;
      const isRead = count % 2 === 0;
      const answer = isRead
        ? await person.get(pages[count % pages.length]!)
        : await person.post(`/cultures/${code}/write`, { kind: 'note', note });
      tally.asked += 1;
      if (answer.location.startsWith('/sign-in')) tally.turnedAway += 1;
      else if (answer.status !== (isRead ? 200 : 303)) tally.wrong.push(`${mark}: ${answer.status}`);
      else if (!isRead) tally.acknowledged.push(note);
    }
  };
  await Promise.all([0, 1, 2, 3, 4, 5].map(one));
}

const sessionsIn = (database: string): number => {
  const { sqlite } = openDatabase(database);
  const count = sqlite
    .prepare("SELECT count(*) FROM sessions WHERE device <> 'storm'")
    .pluck()
    .get() as number;
  sqlite.close();
  return count;
};

it('works on, lets nobody in anew, and does nothing twice', async () => {
  stage = await makeStage();
  const { sqlite } = openDatabase(stage.database);
  sqlite.prepare('UPDATE people SET password_hash = ?').run(await hashPassword(goodPassword));
  sqlite.close();
  const tally: Tally = { asked: 0, wrong: [], acknowledged: [], turnedAway: 0 };
  jump(0);
  let service = await begin(stage.folder);
  const form = await signInForm(service);
  const first = await send(service, form);
  const shows = async (cookie: string, isIn: boolean, what: string) => {
    const seen = await look(service, cookie);
    expect([what, seen.isIn]).toEqual([what, isIn]);
    // The clock that this is about: the service's own, and not the machine's.
    if (isIn) expect(Math.abs(seen.at - Date.now() - clock.aheadMs()), what).toBeLessThan(5_000);
  };

  // An hour to and fro while people work: they never notice.
  for (const [what, ms] of Object.entries({
    now: 0,
    'hour-ahead': hour,
    'hour-behind': -hour,
    'right-again': 0,
  })) {
    jump(ms);
    await shows(first, true, what);
    await work(stage, service, first, what, tally);
  }
  expect(tally.turnedAway).toBe(0);

  // Four hundred days in the middle of the work: the session is over, and stays over.
  const before = tally.asked;
  const busy = work(stage, service, first, 'into-the-future', tally);
  await pause(eachMs / 3);
  jump(400 * day);
  await busy;
  expect(tally.turnedAway).toBeGreaterThan(0);
  expect(tally.asked - before).toBeGreaterThan(tally.turnedAway);
  await shows(first, false, 'over by then');
  const ahead = await send(service, await signInForm(service));
  await shows(ahead, true, 'begun by then');
  await work(stage, service, ahead, 'in-the-future', tally);

  // Back again in the middle of the work.
  const turned = tally.turnedAway;
  const returning = work(stage, service, ahead, 'back', tally);
  await pause(eachMs / 3);
  jump(0);
  await returning;
  expect(tally.turnedAway).toBeGreaterThan(turned);
  await shows(first, false, 'over by then, back again');
  await shows(ahead, false, 'begun by then, back again');

  // The same sign-in form before and after a restart: one session.
  const twice = await signInForm(service);
  const once = await send(service, twice);
  await shows(once, true, 'signed in anew');
  const sessions = sessionsIn(stage.database);
  service.child.kill('SIGTERM');
  expect(await service.ended).toBe(0);
  const said = [service.said()];
  service = await begin(stage.folder);
  const again = await send(service, twice);
  expect(await send(service, twice)).toBe(again);
  await shows(again, true, 'sent again after the restart');
  await shows(once, false, 'the session of before');
  expect(sessionsIn(stage.database)).toBe(sessions);
  await shows(first, false, 'over by then, after a restart');
  await shows(ahead, false, 'begun by then, after a restart');
  await work(stage, service, again, 'after-all', tally);
  service.child.kill('SIGTERM');
  expect(await service.ended).toBe(0);
  said.push(service.said());

  expect(tally.wrong).toEqual([]);
  expect(said.flatMap(wrongLines)).toEqual([]);
  expect(brokenIn(stage.database)).toEqual([]);
  const opened = openDatabase(stage.database);
  const marks = marksIn(opened.sqlite);
  opened.sqlite.close();
  expect(tally.acknowledged.filter((note) => marks.get(note) !== 1)).toEqual([]);
  const shelf = join(stage.folder, 'backups');
  const backups = existsSync(shelf) ? readdirSync(shelf).filter((name) => /^\d{4}|\d{8}/.test(name)) : [];
  const days = backups.map((name) => name.replace(/T.*/, ''));
  console.log(
    `${tally.asked} requests while the clock jumped, ${tally.acknowledged.length} writes acknowledged and there once, ${tally.turnedAway} turned away once their session was over; ${backups.length} backups: ${backups.join(', ')}`,
  );
  expect(new Set(days).size).toBe(days.length);
}, 3_600_000);
