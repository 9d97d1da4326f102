import { randomUUID } from 'node:crypto';
import { inArray } from 'drizzle-orm';
import Fastify, { type FastifyInstance } from 'fastify';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import type { Opened } from '../../server/plumbing/open-database.ts';
import type { Sessions } from '../../server/plumbing/sessions.ts';
import { cultureEstimates, cultures, people } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { inTurn, ms, type Spread, spreadOf } from './timing.ts';

type Bench = Opened & {
  app: FastifyInstance;
  sessions: Sessions;
  cookie: string;
  today: string;
  now: number;
};

const form = (fields: Record<string, string>) =>
  new URLSearchParams({ formKey: randomUUID(), ...fields }).toString();
const formType = { 'content-type': 'application/x-www-form-urlencoded' };

/** What a page's forms carry: the token in them and the cookie that goes with it. */
const tokenIn = (html: string) => /name="_csrf" value="([^"]+)"/.exec(html)?.[1] ?? '';
const pairsOf = (cookies: readonly string[]) => cookies.map((line) => line.split(';')[0]).join('; ');

/** A check with water and what showed at the wall, and a bare route that keeps one row as durably. */
async function savedChecks({ app, sqlite, db, cookie, today }: Bench, counted: boolean) {
  const codes = db.select({ code: cultures.code }).from(cultures).limit(400).all();
  let next = counted ? 0 : 200;
  const first = await app.inject({ url: `/cultures/${codes[0]!.code}/check`, headers: { cookie } });
  const cookies = `${cookie}; ${pairsOf([first.headers['set-cookie'] ?? []].flat())}`;
  const token = tokenIn(first.body);
  const save = async () => {
    const { code } = codes[next]!;
    next += 1;
    const noted = { _csrf: token, onDay: today, surface: 'moist', waterMl: '20' };
    const { statusCode } = await app.inject({
      method: 'POST',
      url: `/cultures/${code}/check`,
      headers: { ...formType, cookie: cookies },
      payload: form({ ...noted, ...(counted && { visible: '20' }) }),
    });
    if (statusCode !== 303) throw new Error(`the check of ${code} answered ${statusCode}`);
  };
  sqlite.exec('CREATE TABLE IF NOT EXISTS bench_row (id INTEGER PRIMARY KEY, note TEXT NOT NULL) STRICT');
  const insert = sqlite.prepare('INSERT INTO bench_row (note) VALUES (?)');
  const bare = Fastify();
  bare.addContentTypeParser(formType['content-type'], { parseAs: 'string' }, (_request, body, done) =>
    done(null, body),
  );
  bare.post('/', (request, reply) => {
    insert.run(String(request.body));
    return reply.redirect('/', 303);
  });
  const [ours, reference] = await inTurn(100, save, () =>
    bare.inject({ method: 'POST', url: '/', headers: formType, payload: form({ surface: 'moist' }) }),
  );
  await bare.close();
  return { ours, reference };
}

/** All but so many were looked at, watered, fed, counted and repotted yesterday: hardly anything is due there. */
function leaveDue({ db, today, now }: Bench, due: number) {
  const ids = db.select({ id: cultures.id }).from(cultures).orderBy(cultures.id).all();
  const seen = ids.slice(due).map(({ id }) => id);
  const onDay = addDays(today, -1);
  const { median } = cultureEstimates;
  db.transaction((tx) => {
    for (const cultureId of seen) {
      const base = { cultureId, onDay, via: 'demo', madeAt: now } as const;
      appendEntry(tx, { ...base, kind: 'check', surface: 'wet', substrate: 'new' });
      appendEntry(tx, { ...base, kind: 'water', waterMl: 30 });
      appendEntry(tx, { ...base, kind: 'feed', food: 'leaves' });
    }
    for (let at = 0; at < seen.length; at += 500)
      tx.update(cultureEstimates)
        .set({ lastCheckOn: onDay, lastCountOn: onDay, lower: median, upper: median })
        .where(inArray(cultureEstimates.cultureId, seen.slice(at, at + 500)))
        .run();
  });
}

/** The part of the round that opens first, and a bare route that sends the same bytes. */
async function roundPage({ app, cookie }: Bench) {
  const get = () => app.inject({ url: '/round', headers: { cookie } });
  const { body, statusCode } = await get();
  if (statusCode !== 200) throw new Error(`/round answered ${statusCode}`);
  const bare = Fastify();
  bare.get('/', (_request, reply) => reply.type('text/html; charset=utf-8').send(body));
  const [ours, reference] = await inTurn(15, get, () => bare.inject('/'));
  await bare.close();
  const due = /of ([\d,.]+) cultures done/.exec(body)?.[1] ?? '0';
  return {
    ours,
    reference,
    due,
    rows: body.match(/ data-code="/g)?.length ?? 0,
    bytes: Buffer.byteLength(body),
  };
}

type Answered = { kind: string; took: number; status: number };

/** One helper with a browser: the round, then looks, checks and counts one after another, as fast as they are answered. */
async function helperAt(base: string, session: string, codes: readonly string[], today: string) {
  const answers: Answered[] = [];
  let cookie = session;
  let token = '';
  const ask = async (kind: string, path: string, fields?: Record<string, string>) => {
    const start = performance.now();
    const response = await fetch(`${base}${path}`, {
      redirect: 'manual',
      headers: { cookie, ...(fields && formType), ...(kind === 'all well' && { 'hx-request': 'true' }) },
      ...(fields && { method: 'POST', body: form({ _csrf: token, ...fields }) }),
    });
    const text = await response.text();
    answers.push({ kind, took: performance.now() - start, status: response.status });
    const made = pairsOf(response.headers.getSetCookie());
    if (made) cookie = `${session}; ${made}`;
    token = tokenIn(text) || token;
  };
  await ask('round', '/round');
  for (const [i, code] of codes.entries()) {
    const at = `/cultures/${code}`;
    if (i % 3 === 0) await ask('all well', `${at}/all-well`, { did: 'yes' });
    if (i % 3 === 1) {
      await ask('check page', `${at}/check`);
      await ask('check', `${at}/check?from=round`, { onDay: today, surface: 'moist', waterMl: '15' });
    }
    if (i % 3 === 2) await ask('count', `${at}/count`, { method: 'visible', counted: '18', onDay: today });
  }
  await ask('round', '/round');
  return answers;
}

/** So many helpers at once over real connections, each with cultures of their own and some that others look at too. */
async function manyHelpers({ app, db, sessions, today, now }: Bench, howMany: number) {
  const codes = db.select({ code: cultures.code }).from(cultures).orderBy(cultures.id).limit(500).all();
  const base = await app.listen({ port: 0, host: '127.0.0.1' });
  const cookies: string[] = [];
  for (let i = 0; i < howMany; i += 1) {
    const id = `bench-helper-${i}`;
    const row = { id, signInName: id, name: `Helper ${i}`, role: 'helper', passwordHash: 'none' } as const;
    db.insert(people)
      .values({ ...row, active: true, scheme: 'system', madeAt: now })
      .run();
    cookies.push((await sessions.begin(id, 'bench')).split(';')[0] ?? '');
  }
  const start = performance.now();
  const all = await Promise.all(
    cookies.map((cookie, i) => {
      const own = codes.slice(i * 12, i * 12 + 12);
      const shared = codes.slice(480, 486);
      return helperAt(
        base,
        cookie,
        [...own, ...shared].map(({ code }) => code),
        today,
      );
    }),
  );
  return { answers: all.flat(), seconds: (performance.now() - start) / 1000 };
}

const say = ({ median, p95 }: Spread) => `median ${ms(median)}, p95 ${ms(p95)}`;

/** What helpers wait for: a check saved, the round with six hundred due, twenty of them at once. */
export async function sayDailyWork(bench: Bench) {
  for (const [name, counted] of [
    ['a check with water', false],
    ['a check with water and a count, estimate and forecast with it', true],
  ] as const) {
    const { ours, reference } = await savedChecks(bench, counted);
    console.log(
      `${name}, from its POST to the answer: ${say(ours)} (target median under 50 ms); bare route that keeps one row ${ms(reference.median)}; ratio ${(ours.median / reference.median).toFixed(1)}`,
    );
  }
  leaveDue(bench, 600);
  const { ours, reference, due, rows, bytes } = await roundPage(bench);
  console.log(
    `the round’s page with ${rows} of ${due} cultures on it, ${Math.round(bytes / 1000)} kB: ${say(ours)}; bare route with the same bytes ${ms(reference.median)}; ratio ${(ours.median / reference.median).toFixed(1)}`,
  );
  const { answers, seconds } = await manyHelpers(bench, 20);
  const failed = answers.filter(({ status }) => status >= 400);
  console.log(
    `20 helpers at once without a pause (target for the round p95 under 300 ms), ${answers.length} requests in ${seconds.toFixed(1)} s, ${failed.length} of them refused or failed`,
  );
  for (const kind of new Set(answers.map((one) => one.kind)))
    console.log(
      `  ${kind}: ${say(spreadOf(answers.filter((one) => one.kind === kind).map(({ took }) => took)))}`,
    );
  if (failed.length > 0) throw new Error(`first failure: ${failed[0]!.kind} ${failed[0]!.status}`);
}
