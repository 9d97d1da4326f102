// `npm run prove -- stops`: the service is told to stop in the middle of a crowd, a hundred times, and as often as process
// 1 of a container (Linux, root for that). Whatever it had taken must have been answered.
import { type ChildProcess, spawn } from 'node:child_process';
import { statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { startMailServer } from '../support/mail-server.ts';
import { type Ended, Line } from './answered.ts';
import { innerPid } from './inner.ts';
import { pause, quantile } from './signed-in.ts';
import { endStage, makeStage, type Stage } from './storm.ts';
import { brokenIn, brokenMails, marksIn } from './storm-left.ts';

const stops = Number(process.env.PROVE_STOPS ?? 100);
const stopsAsFirst = Number(process.env.PROVE_STOPS_AS_FIRST ?? stops);
const clients = 32;
const mailsEach = 12;
const goalMs = 5_000;
const root = fileURLToPath(new URL('../..', import.meta.url));

const children = new Set<ChildProcess>();
const stages: Stage[] = [];
afterAll(() => {
  for (const child of children) child.kill('SIGKILL');
  for (const stage of stages) endStage(stage);
});

async function start(folder: string, mailPort: number, asFirst: boolean) {
  const around = asFirst ? ['unshare', '--pid', '--fork', '--kill-child', '--mount-proc'] : [];
  const [command = '', ...before] = [...around, process.execPath];
  const mail = { SMTP_HOST: '127.0.0.1', SMTP_PORT: String(mailPort), SMTP_ENCRYPTION: 'none' };
  const child = spawn(command, [...before, 'ops/start.mjs'], {
    cwd: root,
    env: {
      PATH: process.env.PATH,
      DATA_DIR: folder,
      PORT: '0',
      HOST: '127.0.0.1',
      LOG_LEVEL: 'info',
      ...mail,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  children.add(child);
  let said = '';
  const ended = new Promise<number | null>((resolve) => child.once('close', (code) => resolve(code)));
  const address = await new Promise<string>((resolve) => {
    const listen = (piece: Buffer) => {
      said += piece.toString();
      const found = /^Open (http:\/\/127\.0\.0\.1:\d+)/m.exec(said)?.[1];
      if (found) resolve(found);
    };
    child.stdout.on('data', listen);
    child.stderr.on('data', listen);
    void ended.then(() => resolve(''));
  });
  const pid = asFirst && child.exitCode === null ? innerPid(child.pid!) : child.pid!;
  return { child, pid, address, ended, said: () => said };
}

/** Mails that are to go out in this life, as if their minute had passed. */
function addMails(database: string, life: number) {
  const { sqlite } = openDatabase(database);
  const add = sqlite.prepare(
    `INSERT INTO mails (kind, tells_of, to_name, to_address, language, subject, plain, html, with_care_sheets, message_id,
       state, next_try_at, give_up_at, made_at)
     VALUES ('test', ?, 'Carla Customer', 'carla@example.org', 'en', 'A test', 'A test', '<p>A test</p>', 0, ?,
       'waiting', 0, ?, ?)`,
  );
  const now = Date.now();
  for (let one = 0; one < mailsEach; one += 1)
    add.run(`stop ${life}-${one}`, `<stop-${life}-${one}@example.org>`, now + 86_400_000, now);
  sqlite.close();
}

type Told = { acknowledged: string[]; ended: Ended[]; wrong: string[] };

const paper = '/labels/sheet.pdf?first=1&cultures=1';
const pages = ['/round', '/orders', '/cultures', '/surplus', '/customers'];

/**
 * Works until nobody listens any more: half of them write, the others read, and the last prints. An even number keeps its
 * line, an odd one takes a new one each time.
 */
async function work(stage: Stage, address: string, index: number, life: number, told: Told) {
  const line = new Line(address, index % 2 === 0);
  const first = await line.ask({ path: '/account', cookie: stage.cookie });
  told.ended.push(first);
  const token = /name="_csrf" value="([^"]+)"/.exec(first.text)?.[1] ?? '';
  const cookie = [stage.cookie, ...first.cookies].join('; ');
  for (let number = 0; ; number += 1) {
    const isRead = index >= clients / 2;
    const note = `mark ${life}-${index}-${number}.`;
    const { code } = stage.cultures[(index + number) % stage.cultures.length]!;
    const form = new URLSearchParams({ _csrf: token, formKey: crypto.randomUUID(), kind: 'note', note });
    const ended = await line.ask(
      isRead
        ? { path: index === clients - 1 ? paper : pages[(index + number) % pages.length]!, cookie }
        : { path: `/cultures/${code}/write`, cookie, form },
    );
    told.ended.push(ended);
    if (ended.ending === 'refused') break;
    if (ended.ending !== 'whole') continue;
    if (!isRead && ended.status === 303) told.acknowledged.push(note);
    else if (![200, 503].includes(ended.status)) told.wrong.push(`${ended.status} ${ended.text.slice(-300)}`);
  }
  line.leave();
}

/** Requests that the service says it had taken, and those of them that it says it answered. */
function taken(said: string) {
  const lines = said.split('\n');
  const of = (words: string) =>
    lines.filter((one) => one.includes(`"msg":"${words}"`)).map((one) => /"reqId":"([^"]+)"/.exec(one)?.[1]);
  const answered = new Set(of('request completed'));
  const incoming = lines.filter((one) => one.includes('"msg":"incoming request"'));
  const open = incoming.filter((line) => !answered.has(/"reqId":"([^"]+)"/.exec(line)?.[1]));
  return { answered: answered.size, open: open.map((line) => /"route":"([^"]+)"/.exec(line)?.[1]) };
}

type Counts = {
  whole: number;
  refused: number;
  dropped: string[];
  times: number[];
  under: number;
};

async function oneStop(stage: Stage, mailPort: number, life: number, asFirst: boolean, counts: Counts) {
  addMails(stage.database, life);
  const service = await start(stage.folder, mailPort, asFirst);
  expect(service.address, service.said()).not.toBe('');
  // The first paper starts its thread, which takes seconds where others use the machine too.
  const line = new Line(service.address, false);
  expect((await line.ask({ path: paper, cookie: stage.cookie })).status).toBe(200);
  const told: Told = { acknowledged: [], ended: [], wrong: [] };
  const crowd = Array.from({ length: clients }, (_, index) =>
    work(stage, service.address, index, life, told),
  );
  while (told.ended.length < 2 * clients && service.child.exitCode === null) await pause(5);
  await pause((life * 97) % 600);
  const begun = performance.now();
  const before = told.ended.length;
  process.kill(service.pid, 'SIGTERM');
  expect([life, await service.ended]).toEqual([life, 0]);
  counts.times.push(performance.now() - begun);
  children.delete(service.child);
  await Promise.all(crowd);
  const by = (ending: Ended['ending']) => told.ended.filter((one) => one.ending === ending);
  expect(told.wrong).toEqual([]);
  expect(by('cut').map(({ why }) => why)).toEqual([]);
  const { answered, open } = taken(service.said());
  // Whatever got no answer was never taken: all that was is answered, and all those answers have come.
  const place = `stop ${life}, ended after ${Math.round(counts.times.at(-1) ?? 0)} ms`;
  expect([place, open, by('whole').length]).toEqual([place, [], answered - 1]);
  expect(statSync(`${stage.database}-wal`, { throwIfNoEntry: false })?.size ?? 0).toBe(0);
  counts.whole += by('whole').length;
  counts.under +=
    by('whole').length - told.ended.slice(0, before).filter((one) => one.ending === 'whole').length;
  counts.refused += by('refused').length;
  counts.dropped.push(...by('dropped').map(({ why }) => why));
  const { sqlite } = openDatabase(stage.database);
  const marks = marksIn(sqlite);
  sqlite.close();
  expect(told.acknowledged.filter((note) => marks.get(note) !== 1)).toEqual([]);
  return told.acknowledged.length;
}

async function manyStops(times: number, asFirst: boolean) {
  const stage = await makeStage();
  stages.push(stage);
  // Takes its time over each letter, so that stops come while one is on its way.
  const mail = await startMailServer({
    onMailFrom: (_address, _session, done) => setTimeout(done, 60),
    onRcptTo: (_address, _session, done) => setTimeout(done, 60),
  });
  const counts: Counts = { whole: 0, refused: 0, dropped: [], times: [], under: 0 };
  let acknowledged = 0;
  for (let life = 0; life < times; life += 1)
    acknowledged += await oneStop(stage, mail.at.port, life, asFirst, counts);
  expect(brokenIn(stage.database)).toEqual([]);
  expect(brokenMails(stage.database, mail.received)).toEqual([]);
  const { sqlite } = openDatabase(stage.database);
  const states = sqlite.prepare('SELECT state, count(*) AS n FROM mails GROUP BY 1').all() as {
    state: string;
    n: number;
  }[];
  sqlite.close();
  console.log(
    [
      `${times} stops${asFirst ? ' as process 1' : ''} under ${clients} clients: exit 0 each, p50 ${Math.round(quantile(counts.times, 0.5))} ms, longest ${Math.round(Math.max(...counts.times))} ms`,
      `${counts.whole} requests answered, ${counts.under} of them after the signal, none cut (${counts.refused} found nobody, ${counts.dropped.length} came too late to be taken${counts.dropped.map((why) => `; ${why}`).join('')}); ${acknowledged} writes acknowledged and there once`,
      `mails: ${states.map(({ state, n }) => `${n} ${state}`).join(', ')}, ${mail.received.length} came, none twice`,
    ].join('\n'),
  );
  // A line that is shut, or a queue that ends, just when somebody speaks: without it every stop has dozens of them.
  expect(counts.dropped.length).toBeLessThan(counts.whole / 1_000);
  expect(Math.max(...counts.times)).toBeLessThan(goalMs);
  await mail.close();
}

it('ends in good order under 32 clients', () => manyStops(stops, false), 7_200_000);
it('ends in good order as process 1', () => manyStops(stopsAsFirst, true), 7_200_000);
