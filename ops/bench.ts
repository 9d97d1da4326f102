// `npm run bench`: how fast the slow things are, as ratios against a reference in the same run. Nothing here is a
// test; figures differ between machines, ratios hardly.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Fastify from 'fastify';
import { buildApp } from '../server/app.ts';
import { readConfig } from '../server/config.ts';
import { refreshEstimate } from '../server/counts/queries-estimate.ts';
import { refreshStale } from '../server/counts/refresh-all.ts';
import { appendEntry } from '../server/cultures/queries-diary.ts';
import { migrate } from '../server/plumbing/migrate.ts';
import { openDatabase } from '../server/plumbing/open-database.ts';
import { makeSessions } from '../server/plumbing/sessions.ts';
import { cultures } from '../server/schema/tables.ts';
import { allContacts } from '../server/traces/queries-contacts.ts';
import { addDays } from '../shared/days.ts';
import { dayInZone } from '../shared/zone-day.ts';
import { sayActions } from './bench/actions.ts';
import { sayAllocation } from './bench/allocation.ts';
import { writeContacts } from './bench/contacts.ts';
import { sayDailyWork } from './bench/daily-work.ts';
import { writeKin } from './bench/kin.ts';
import { sayParcels } from './bench/parcels.ts';
import { sayPrinting } from './bench/printing.ts';
import { writeStock as writeManyCultures } from './bench/stock.ts';
import { inTurn, ms, spreadOf } from './bench/timing.ts';
import { hashDemoPasswords, writeBusiness, writePlaces, writeStock } from './demo/business.ts';

// What people wait for in a browser is measured by itself: it needs Chromium and minutes of a quiet machine.
if (process.argv[2] === 'actions') {
  await sayActions();
  process.exit();
}

const howMany = Number(process.env.BENCH_CULTURES ?? 2_000);
const folder = mkdtempSync(join(tmpdir(), 'broodbench-bench-'));
const opened = openDatabase(join(folder, 'bench.db'));
const { db, sqlite } = opened;
const now = Date.now();
const today = dayInZone(now, 'Europe/London');
const clock = { now: () => now };

async function prepare() {
  migrate(sqlite, now);
  const staff = await hashDemoPasswords();
  db.transaction((tx) => {
    writeBusiness(tx, staff, now);
    writePlaces(tx);
    writeStock(tx);
  });
  writeManyCultures(db, howMany, today);
  const config = { ...readConfig({}), logLevel: 'silent' as const, dataDir: folder };
  const app = await buildApp({ ...opened, config, clock });
  await app.ready();
  const sessions = makeSessions(db, clock);
  const cookie = (await sessions.begin('demo-owner', 'bench')).split(';')[0] ?? '';
  const get = (url: string) => app.inject({ url, headers: { cookie } });
  return { app, get, cookie, sessions };
}

/** The rebuild in two threads, while somebody asks for the heaviest page every second: all are due on it. */
async function rebuild(get: (url: string) => Promise<unknown>) {
  const pageTimes: number[] = [];
  let running = true;
  const visits = (async () => {
    while (running) {
      const start = performance.now();
      await get('/round');
      pageTimes.push(performance.now() - start);
      await new Promise((next) => setTimeout(next, 1_000));
    }
  })();
  const start = performance.now();
  await refreshStale(db, { today, now: clock.now, threads: 2 });
  const seconds = (performance.now() - start) / 1000;
  running = false;
  await visits;
  return { seconds, pages: spreadOf(pageTimes) };
}

/** The surplus page against a bare route that sends the same bytes out of the same file. */
async function surplusPage(get: (url: string) => Promise<{ body: string; statusCode: number }>) {
  const { body, statusCode } = await get('/surplus');
  if (statusCode !== 200) throw new Error(`/surplus answered ${statusCode}`);
  sqlite.exec('CREATE TABLE bench_page (id INTEGER PRIMARY KEY, body TEXT NOT NULL) STRICT');
  sqlite.prepare('INSERT INTO bench_page VALUES (1, ?)').run(body);
  const read = sqlite.prepare('SELECT body FROM bench_page WHERE id = 1').pluck();
  const bare = Fastify();
  bare.get('/', (_request, reply) => reply.type('text/html; charset=utf-8').send(read.get()));
  const [ours, reference] = await inTurn(
    15,
    () => get('/surplus'),
    () => bare.inject('/'),
  );
  await bare.close();
  return { ours, reference, bytes: Buffer.byteLength(body) };
}

/** Who had contact with each of twenty cultures, over half a year and all that is known before. */
async function tracePages(get: (url: string) => Promise<{ statusCode: number }>) {
  writeContacts(db, 10_000, today);
  const codes = db.select({ code: cultures.code }).from(cultures).limit(20).all();
  const times: number[] = [];
  for (const { code } of codes) {
    const start = performance.now();
    const { statusCode } = await get(`/cultures/${code}/trace?since=${addDays(today, -180)}&back=all`);
    if (statusCode !== 200) throw new Error(`the trace of ${code} answered ${statusCode}`);
    times.push(performance.now() - start);
  }
  return { ...spreadOf(times), contacts: allContacts(db).length };
}

/** The pages that work out the kinship of a line of two thousand cultures. */
async function kinPages(get: (url: string) => Promise<{ statusCode: number }>) {
  const { speciesId, codes } = writeKin(db, howMany, today);
  const some = [0.2, 0.5, 0.9].map((share) => codes[Math.floor(share * codes.length)]);
  const pages = {
    'graph of the species': [`/lines/graph?species=${speciesId}`],
    'graph around a culture': some.map(
      (code) => `/lines/graph?species=${speciesId}&focus=${code}&up=4&down=4`,
    ),
    "culture's page": some.map((code) => `/cultures/${code}`),
    'mixing page': some.map((code) => `/cultures/${code}/mixing`),
  };
  const figures: [string, ReturnType<typeof spreadOf>][] = [];
  for (const [name, urls] of Object.entries(pages)) {
    const times: number[] = [];
    for (let i = 0; i < 9; i += 1) {
      const url = urls[i % urls.length]!;
      const start = performance.now();
      const { statusCode } = await get(url);
      if (statusCode !== 200) throw new Error(`${url} answered ${statusCode}`);
      times.push(performance.now() - start);
    }
    figures.push([name, spreadOf(times)]);
  }
  return figures;
}

/** One visible count on one culture after another: its entry, the estimate and eight weeks ahead, in one transaction. */
function oneCheck() {
  const ids = db.select({ id: cultures.id }).from(cultures).limit(200).all();
  const countInput = JSON.stringify({ method: 'visible', counted: 20, detection: { alpha: 6, beta: 9 } });
  const times = ids.map(({ id }) => {
    const start = performance.now();
    db.transaction((tx) => {
      appendEntry(tx, { cultureId: id, onDay: today, kind: 'count', countInput, via: 'page', madeAt: now });
      refreshEstimate(tx, id, today, now);
    });
    return performance.now() - start;
  });
  return spreadOf(times.slice(20));
}

await sayParcels();
await sayPrinting();
const { app, get, cookie, sessions } = await prepare();
console.log(`${howMany} cultures with a year of weekly checks, a count at every third.`);
const built = await rebuild(get);
console.log(`full rebuild in two threads: ${built.seconds.toFixed(1)} s (target under 60 s)`);
console.log(
  `  the round's page meanwhile: median ${ms(built.pages.median)}, p95 ${ms(built.pages.p95)} of ${built.pages.runs}`,
);
await sayDailyWork({ ...opened, app, sessions, cookie, today, now });
const traced = await tracePages(get);
console.log(
  `trace page of 20 cultures with ${traced.contacts} contacts about: median ${ms(traced.median)}, p95 ${ms(traced.p95)} (target under 300 ms)`,
);
const page = await surplusPage(get);
console.log(
  `surplus page, ${Math.round(page.bytes / 1000)} kB: median ${ms(page.ours.median)}; bare route with the same bytes ${ms(page.reference.median)}; ratio ${(page.ours.median / page.reference.median).toFixed(1)}`,
);
await sayAllocation(db, get, addDays(today, 3), now);
const update = oneCheck();
console.log(
  `one new count to estimate and forecast: median ${ms(update.median)}, p95 ${ms(update.p95)} (target median under 5 ms)`,
);
for (const [name, { median, p95 }] of await kinPages(get))
  console.log(
    `${name}, ${howMany} more cultures of one line: median ${ms(median)}, p95 ${ms(p95)} (target under 300 ms)`,
  );
await app.close();
sqlite.close();
rmSync(folder, { recursive: true, force: true });
