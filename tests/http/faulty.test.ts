import { EventEmitter } from 'node:events';
import { pino } from 'pino';
import request from 'supertest';
import { describe, expect, it } from 'vitest';
import { codeAt } from '../../server/people/one-time-codes.ts';
import { logLastWords } from '../../server/plumbing/last-words.ts';
import { rounds } from '../support/payloads.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, type TestApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { furnishedBench, type Walk } from '../support/walk.ts';

// OWASP ASVS 5.0, 16.5.1 to 16.5.4 and 16.2.5: what goes wrong is told in the log and nowhere else.

type Line = { level: number; msg: string; reqId?: string; err?: { message: string } };

/** The lines that the service writes into its log from now on. */
function logOf({ app }: TestApp, level: 'error' | 'info'): string[] {
  const lines: string[] = [];
  const { stream } = { stream: (app.log as unknown as Record<symbol, unknown>)[pino.symbols.streamSym] };
  Object.assign(stream as object, { write: (line: string) => lines.push(line) });
  app.log.level = level;
  return lines;
}

const detail = 'no such column: hush, in /srv/bench/secret.sqlite';

/** Lets one statement of the database fail: the one that is so many from now. */
function failing({ sqlite }: TestApp) {
  const statement = Object.getPrototypeOf(sqlite.prepare('SELECT 1')) as Record<string, unknown>;
  const kept = { ...Object.fromEntries(['all', 'get', 'run'].map((name) => [name, statement[name]])) };
  const state = { asked: 0, failAt: Number.POSITIVE_INFINITY, error: new Error(detail), more: 0 };
  for (const [name, work] of Object.entries(kept))
    statement[name] = function asked(this: unknown, ...values: unknown[]) {
      state.asked += 1;
      if (state.asked >= state.failAt && state.asked <= state.failAt + state.more) throw state.error;
      return (work as (...given: unknown[]) => unknown).apply(this, values);
    };
  return { state, mend: () => Object.assign(statement, kept) };
}

/** Every twelfth route in the suite; all of them with `PAYLOADS=all`. */
const some = ({ app }: TestApp) => {
  const asked = app.surface.filter(
    ({ method, path }) => ['GET', 'POST'].includes(method) && !path.startsWith('/static'),
  );
  return asked.filter((_address, at) => at % rounds(12, 1) === 0);
};

describe('a fault of ours', () => {
  it('on any route is a page with a number, one line in the log, and no detail for strangers', async () => {
    const t = await furnishedBench();
    await t.owner.csrf();
    const lines = logOf(t, 'error');
    const { state, mend } = failing(t);
    const wrong: string[] = [];
    let failed = 0;
    try {
      for (const address of some(t)) {
        const where = t.at(address);
        const ask = () => (address.method === 'GET' ? t.owner.get(where) : t.owner.post(where, {}));
        Object.assign(state, { asked: 0, failAt: Number.POSITIVE_INFINITY });
        await ask();
        Object.assign(state, { failAt: Math.max(1, Math.ceil(state.asked * 0.7)), asked: 0 });
        lines.length = 0;
        const { status, text = '' } = await ask();
        const named = `${address.method} ${address.path}: ${status}`;
        if (/hush|secret\.sqlite|node_modules|SELECT |\.ts:\d/.test(text)) wrong.push(`${named} tells`);
        const [line, ...more] = lines.map((one) => JSON.parse(one) as Line);
        if (status !== 500) continue;
        failed += 1;
        if (!line || more.length > 0 || line.err?.message !== detail || !line.reqId)
          wrong.push(`${named}, ${lines.length} lines`);
        else if (!text.includes(line.reqId)) wrong.push(`${named} has no number`);
      }
    } finally {
      mend();
    }
    expect(wrong).toEqual([]);
    expect(failed).toBeGreaterThan(some(t).length / 2);
    expect((await t.owner.get('/round')).status).toBe(200);
  });

  it('of the database beneath customers and sensors is told as everywhere: a number, and when to come back', async () => {
    const t = await furnishedBench();
    const lines = logOf(t, 'error');
    const { state, mend } = failing(t);
    const told: unknown[] = [];
    const askAll = async (code: string) => {
      const error = Object.assign(new Error(detail), { name: 'SqliteError', code });
      for (const path of [t.at({ path: '/o/:token' }), '/available', '/api/climate', '/api/climate']) {
        Object.assign(state, { asked: 0, failAt: 1, more: 1_000, error });
        const answer = path.startsWith('/api')
          ? await request(t.app.server)
              .post(path)
              .set('Authorization', `Bearer ${'x'.repeat(30)}`)
              .send({ tempC: 20 })
          : await t.outsider.get(path);
        const text = answer.text ?? '';
        told.push([
          answer.status,
          answer.headers['retry-after'],
          /[\da-f]{8}-[\da-f]{4}\b/.test(text),
          text.includes('hush'),
        ]);
      }
    };
    try {
      for (const code of ['SQLITE_BUSY', 'SQLITE_CORRUPT']) await askAll(code);
    } finally {
      mend();
    }
    expect(told).toEqual(Array(8).fill([503, '2', true, false]));
    expect(lines.map((line) => (JSON.parse(line) as Line).msg)).toEqual([
      ...Array(4).fill('request failed'),
      expect.stringMatching('the database is damaged'),
    ]);
  });

  it('that nobody catches stands in the log: a promise lets the service go on, an exception ends it', () => {
    const source = new EventEmitter();
    const told: string[] = [];
    const log = { error: (o: { err: Error }, m: string) => told.push(`${o.err.message}: ${m}`) };
    const codes: number[] = [];
    logLastWords(source, log as never, (code) => codes.push(code));
    source.emit('unhandledRejection', new Error('lost promise'));
    expect(codes).toEqual([]);
    source.emit('uncaughtException', new Error('lost exception'));
    expect(codes).toEqual([1]);
    expect(told).toEqual([expect.stringMatching(/^lost promise/), expect.stringMatching(/^lost exception/)]);
  });
});

const cookiesOf = (visitor: Visitor) => (visitor as unknown as { cookies: Map<string, string> }).cookies;

/** What opens something, live, each used once while the log is listened to. */
async function whatOpens(t: Walk): Promise<string[]> {
  await givePassword(t, cast.helper.id);
  const browser = new Visitor(t.app, null);
  await browser.post('/sign-in', { signInName: 'helper', password: goodPassword });
  const where = '/account/second-factor';
  await browser.post(`${where}/start`);
  const secret = String(t.sqlite.prepare('SELECT secret FROM second_factors').pluck().get());
  const on = await browser.post(where, { code: codeAt(secret, t.clock.now()), password: goodPassword });
  const recovery = /<code>([a-z2-9-]{19})<\/code>/.exec(on.text)?.[1] ?? '';
  const half = new Visitor(t.app, null);
  const asked = await half.post('/sign-in', { signInName: 'helper', password: goodPassword });
  const token = /name="token" value="([^"]+)"/.exec(asked.text)?.[1] ?? '';
  expect((await half.post('/sign-in/code', { token, code: recovery })).status).toBe(303);
  const pages = [t.at({ path: '/o/:token' }), t.at({ path: '/calendar/:token.ics' })];
  for (const path of pages) expect((await half.get(path)).status).toBe(200);
  await half.get(`/invitation?token=${'w'.repeat(43)}`);
  const keys = pages.map((path) => path.split('/')[2]?.replace('.ics', '') ?? '');
  const cookies = [browser, half].flatMap((one) => [...cookiesOf(one).values()]);
  const all = [secret, recovery, token, goodPassword, 'w'.repeat(43), ...keys, ...cookies];
  expect(all.length).toBeGreaterThan(11);
  for (const one of all) expect(one.length).toBeGreaterThan(14);
  return all;
}

describe('the log', () => {
  it('holds nothing that opens anything or that is about a person, and no line that somebody else wrote', async () => {
    const t = await furnishedBench();
    const lines = logOf(t, 'info');
    const opens = await whatOpens(t);
    const planted = ['pass-Word-4711', 'tok-4711', 'carla4711@example.org', 'Planted Lane 4711', '471147'];
    const [password = '', token = '', mail = '', street = '', code = ''] = planted;
    const forged = 'x\r\n{"level":30,"msg":"forged 4711"}\u001b[31m';
    const fields = {
      signInName: mail,
      password,
      token,
      email: mail,
      address: street,
      name: forged,
      code,
      note: street,
    };
    for (const address of some(t)) {
      const where = t.at(address);
      const asked = `${where}${where.includes('?') ? '&' : '?'}${new URLSearchParams({ token, q: mail, words: street })}`;
      const headers = { 'X-Request-Id': token, 'User-Agent': street, Referer: `http://${mail}/${token}` };
      if (address.method === 'GET') await t.owner.get(asked, headers);
      else await t.owner.post(asked, fields, { headers, formKey: `key-${token}-${token}` });
    }
    expect(lines.length).toBeGreaterThan(some(t).length);
    const text = lines.join('');
    for (const secret of [...planted, '4711', '\u001b'])
      expect([secret, text.includes(secret)]).toEqual([secret, false]);
    for (const secret of opens) expect([secret, text.includes(secret)]).toEqual([secret, false]);
    const secrets = t.sqlite
      .prepare('SELECT id FROM sessions UNION SELECT token_hash FROM one_time_links')
      .pluck()
      .all();
    for (const secret of secrets) expect(text).not.toContain(String(secret));
    for (const line of lines)
      expect(JSON.parse(line)).toMatchObject({ level: expect.any(Number), time: expect.any(Number) });
  });
});
