import { globalAgent } from 'node:http';
import type { FastifyInstance } from 'fastify';
import { afterAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { readConfig } from '../../server/config.ts';
import { codeAt, stepMs, stepOf } from '../../server/people/one-time-codes.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

// `npm run prove -- guesses`: OWASP ASVS 5.0, 6.1.1, 6.3.1, 6.3.8, 6.5.1 to 6.5.5; NIST SP 800-63B-4, 3.2.2. The small
// forms are guessing.test.ts, tries.test.ts and second-factor.test.ts.

const [minute, hour] = [60_000, 3_600_000];
const figures: Record<string, unknown>[] = [];
// A line that lies idle while hashes are made is closed by the service; each request here opens its own.
Object.assign(globalAgent, { keepAlive: false });
afterAll(() => {
  Object.assign(globalAgent, { keepAlive: true });
  console.table(figures);
});

const wrong = (signInName: string) => ({ signInName, password: 'not this password, but another' });
const right = { signInName: 'helper', password: goodPassword };

async function bench(env: NodeJS.ProcessEnv = {}) {
  const t = await testApp(env);
  await givePassword(t, cast.helper.id);
  const own = new Visitor(t.app, null);
  expect((await own.post('/sign-in', right)).status).toBe(303);
  return { ...t, own };
}

/** The service ended and begun anew on the same database. */
async function restarted(t: TestApp, env: NodeJS.ProcessEnv): Promise<FastifyInstance> {
  const app = await buildApp({ ...t, config: { ...readConfig(env), logLevel: 'silent' } });
  await app.ready();
  return app;
}

const mostInAnHour = (at: readonly number[]) =>
  Math.max(0, ...at.map((from) => at.filter((one) => one >= from && one < from + hour).length));

type Guessing = {
  tries: number;
  everyMs: number;
  nameOf: (at: number) => string;
  headersOf: (at: number) => Record<string, string>;
  env?: NodeJS.ProcessEnv;
  /** How often the person themself comes by, mistypes twice and signs in. */
  personEvery?: number;
};

/** Guesses as strangers do, by the page, with a restart after every tenth of them; when a password was looked at. */
async function guess({ tries, everyMs, nameOf, headersOf, env = {}, personEvery }: Guessing) {
  const t = await bench(env);
  const looked: number[] = [];
  let [app, shut, refusedPerson, cameBy] = [t.app, async () => {}, 0, 0];
  let stranger = new Visitor(app, null);
  for (let at = 0; at < tries; at += 1) {
    if (at % Math.ceil(tries / 10) === 0) {
      await shut();
      app = await restarted(t, env);
      shut = async () => void (await app.close());
    }
    t.clock.at += everyMs;
    if (at % 50 === 0 || at % Math.ceil(tries / 10) === 0) stranger = new Visitor(app, null);
    const { status } = await stranger.post('/sign-in', wrong(nameOf(at)), { headers: headersOf(at) });
    expect([422, 429]).toContain(status);
    if (status === 422) looked.push(t.clock.at);
    if (personEvery === undefined || at % personEvery !== personEvery - 1) continue;
    cameBy += 1;
    await t.own.post('/sign-out');
    for (const sent of [wrong('helper'), wrong('helper')]) await t.own.post('/sign-in', sent);
    if ((await t.own.post('/sign-in', right)).status !== 303) refusedPerson += 1;
  }
  await shut();
  return { looked, mostAnHour: mostInAnHour(looked), cameBy, refusedPerson };
}

const trusted = { TRUSTED_PROXIES: '127.0.0.1' };
const from = (at: number) => ({ 'X-Forwarded-For': `198.${18 + (at % 2)}.${(at >> 8) % 256}.${at % 256}` });

describe('guessing at passwords, ten thousand times', () => {
  it('at one account from four thousand places for a week: 50 in a row', async () => {
    const done = await guess({
      tries: 4_000,
      everyMs: 2.5 * minute,
      nameOf: () => 'helper',
      headersOf: from,
      env: trusted,
    });
    figures.push({ what: 'one account, 4,000 places, a week', ...done, looked: done.looked.length });
    expect(done.mostAnHour).toBeLessThanOrEqual(10);
    expect(done.looked.length).toBeLessThanOrEqual(50);
  }, 3_600_000);

  it('while the person comes by every hour: ten an hour, and the person is never turned away', async () => {
    const done = await guess({
      tries: 3_000,
      everyMs: minute,
      nameOf: () => 'helper',
      headersOf: from,
      env: trusted,
      personEvery: 60,
    });
    figures.push({ what: 'the same, with the person', ...done, looked: done.looked.length });
    expect(done.mostAnHour).toBeLessThanOrEqual(10);
    expect([done.cameBy, done.refusedPerson]).toEqual([50, 0]);
  }, 3_600_000);

  it('at two thousand accounts from one place within an hour: 50', async () => {
    const done = await guess({
      tries: 2_000,
      everyMs: 1_000,
      nameOf: (at) => `name${at}`,
      headersOf: () => ({ 'X-Forwarded-For': '198.51.100.7' }),
      env: trusted,
    });
    figures.push({ what: '2,000 accounts, one place', ...done, looked: done.looked.length });
    expect(done.mostAnHour).toBeLessThanOrEqual(50);
  }, 3_600_000);

  it('with a thousand addresses that headers claim and nobody trusts: as from one place', async () => {
    const done = await guess({
      tries: 1_000,
      everyMs: 3_000,
      nameOf: () => 'helper',
      headersOf: (at) => ({
        ...from(at),
        Forwarded: `for=203.0.113.${at % 250}`,
        'X-Real-IP': `203.0.113.${at % 250}`,
      }),
    });
    figures.push({ what: 'forged headers', ...done, looked: done.looked.length });
    expect(done.looked.length).toBeLessThanOrEqual(10);
  }, 3_600_000);
});

const median = (list: readonly number[]) => [...list].sort((a, b) => a - b)[list.length >> 1] ?? 0;

describe('how long a wrong sign-in takes', () => {
  it('says nothing of whether the account is there: 500 times each', async () => {
    const t = await bench();
    await givePassword(t, cast.owner.id);
    t.sqlite.exec(`UPDATE people SET active = 0 WHERE id = '${cast.owner.id}'`);
    const times = { helper: [] as number[], 'nobody-here': [] as number[], owner: [] as number[] };
    const names = Object.keys(times) as (keyof typeof times)[];
    const visitor = new Visitor(t.app, null);
    await visitor.csrf();
    for (let round = -5; round < 500; round += 1)
      for (let turn = 0; turn < 3; turn += 1) {
        const name = names[(turn + round + 5) % 3] ?? 'helper';
        t.sqlite.exec('DELETE FROM sign_in_tries');
        const begun = performance.now();
        const { status } = await visitor.post('/sign-in', wrong(name));
        if (round >= 0) times[name].push(performance.now() - begun);
        expect(status).toBe(422);
      }
    const medians = names.map((name) => median(times[name]));
    const apart = Math.max(...medians) / Math.min(...medians) - 1;
    const inMs = Object.fromEntries(names.map((name, at) => [name, `${medians[at]?.toFixed(1)} ms`]));
    figures.push({ what: '500 timed sign-ins each', ...inMs, apart: `${(apart * 100).toFixed(1)} %` });
    expect(apart).toBeLessThan(0.05);
  }, 3_600_000);
});

describe('guessing at codes', () => {
  it('a thousand times: five in a quarter of an hour; a code opens once, and not two steps away', async () => {
    const t = await bench();
    const where = '/account/second-factor';
    await t.own.post(`${where}/start`);
    const secret = String(t.sqlite.prepare('SELECT secret FROM second_factors').pluck().get());
    await t.own.post(where, { code: codeAt(secret, t.clock.at), password: goodPassword });
    const half = async (visitor = new Visitor(t.app, null)) => {
      const { text } = await visitor.post('/sign-in', right);
      const token = /name="token" value="([^"]+)"/.exec(text)?.[1] ?? '';
      return (code: string) => visitor.post('/sign-in/code', { token, code });
    };
    const [looked, opened]: [number[], string[]] = [[], []];
    let type = await half();
    for (let at = 0; at < 1_000; at += 1) {
      t.clock.at += 10_000;
      if (at % 50 === 0) type = await half();
      const code = String((at * 7_919) % 1_000_000).padStart(6, '0');
      if (stepOf(secret, code, t.clock.at) !== null) continue;
      const { status } = await type(code);
      if (status === 422) looked.push(t.clock.at);
      if (status === 303) opened.push(code);
    }
    const inQuarter = Math.max(...looked.map((a) => looked.filter((b) => b >= a && b < a + hour / 4).length));
    t.clock.at += 8 * 24 * hour;
    const answers: number[] = [];
    for (const steps of [-2, 2, 0, 0, -1]) {
      t.sqlite.exec('DELETE FROM sign_in_tries');
      answers.push((await (await half())(codeAt(secret, t.clock.at + steps * stepMs))).status);
    }
    figures.push({ what: '1,000 codes', looked: looked.length, inQuarter, opened: opened.length });
    expect([inQuarter <= 5, looked.length <= 50, opened]).toEqual([true, true, []]);
    // two steps away, then the code of now, the same again, and the one before it
    expect(answers).toEqual([422, 422, 303, 422, 422]);
  }, 3_600_000);
});
