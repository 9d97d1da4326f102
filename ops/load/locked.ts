import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { percentile, sayPages, saySamples } from './figures.ts';
import type { Answered, Person } from './person.ts';
import type { World } from './roles.ts';
import { openStage, openTheDay, peopleOf, type Stage } from './stage.ts';

const heldMs = 10_000;
const goalMs = 200;
/** Each of the 64 acts so often: together about a third of what one processor can do. */
const thinkMs = 3_000;
const wait = (ms: number) => new Promise((next) => setTimeout(next, ms));
const pick = <T>(list: readonly T[]): T => list[Math.floor(Math.random() * list.length)] as T;

/** Holds the lock from another process and says when it has it and when it has let go. */
async function holdLock(file: string, ms: number): Promise<{ from: number; until: Promise<number> }> {
  const script = fileURLToPath(new URL('./hold-lock.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', script, file, String(ms)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const until = new Promise<number>((resolve) => child.once('exit', () => resolve(Date.now())));
  await new Promise((held) => child.stdout.once('data', held));
  return { from: Date.now(), until };
}

const pages = (world: World) => [
  '/round',
  `/cultures/${pick(world.codes)}`,
  '/orders',
  `/orders/${pick(world.orders)}`,
  `/search?q=${pick(world.codes).slice(0, 4)}`,
  '/climate',
];

async function read(person: Person, world: World, thinkMs: number, isOver: () => boolean) {
  while (!isOver()) {
    await person.get('a page', pick(pages(world)));
    await wait(thinkMs * (0.5 + Math.random()));
  }
}

type Written = { refused: number; withoutTime: number; lost: number };

/** Each form is sent until it is taken; a refusal must say when to come back. */
async function write(person: Person, world: World, thinkMs: number, isOver: () => boolean, told: Written) {
  await person.get('a page', '/account');
  while (!isOver()) {
    const path = `/cultures/${pick(world.codes)}/all-well`;
    let status = 503;
    for (let tries = 0; status === 503 && tries < 40; tries += 1) {
      const heard = await person.post('a form', path, { did: 'yes' }, { 'hx-request': 'true' });
      status = heard.status;
      if (status !== 503) break;
      told.refused += 1;
      if (!heard.retryAfter) told.withoutTime += 1;
      await wait(Number(heard.retryAfter || 1) * 1000 * (0.5 + Math.random()));
    }
    if (status !== 200) told.lost += 1;
    await wait(thinkMs * (0.5 + Math.random()));
  }
}

/** What else goes on at such an hour: a backup, reports, a day's papers. */
async function alongside(stage: Stage, person: Person) {
  const { world } = stage;
  const { text } = await person.get('page of backups', '/settings/backups');
  if (text) await person.post('backup begun', '/settings/backups', {});
  const labels = Array.from({ length: 100 }, (_, i) => i + 1).join(',');
  await Promise.all([
    person.get('report, CSV', `/invoices/ledger.csv?from=${world.today.slice(0, 4)}-01-01&to=${world.today}`),
    person.get('record of changes, CSV', '/settings/changes.csv'),
    person.get('export of the diary', '/records/export/diary.csv'),
    person.get('packing sheets, PDF', `/packing-sheets.pdf?day=${world.today}`),
    person.get('labels, PDF', `/labels/sheet.pdf?first=1&cultures=${labels}`),
    ...world.openOrders
      .slice(0, 5)
      .map((number) => person.get('packing sheet, PDF', `/orders/${number}/packing-sheet.pdf`)),
  ]);
}

function judge(answers: readonly Answered[], from: number, until: number, told: Written): boolean {
  const during = answers.filter(({ kind, atMs }) => kind === 'a page' && atMs >= from && atMs <= until);
  const times = during.map(({ tookMs }) => tookMs);
  const faults = answers.filter(({ status }) => status === 0 || status === 500);
  const [p50, p99] = [percentile(times, 0.5), percentile(times, 0.99)];
  console.log(
    `while another process held the lock for ${((until - from) / 1000).toFixed(1)} s: ${during.length} pages read, p50 ${p50.toFixed(1)} ms, p99 ${p99.toFixed(1)} ms (goal under ${goalMs})`,
  );
  console.log(
    `forms told to come back: ${told.refused}, of them without a time ${told.withoutTime}; never taken: ${told.lost}; answers with 500 or none at all: ${faults.length}`,
  );
  for (const { kind, status } of faults.slice(0, 5)) console.log(`  ${kind}: ${status}`);
  return faults.length === 0 && told.lost === 0 && told.withoutTime === 0 && p99 < goalMs;
}

/** `npm run load -- locked`: many at work with a backup and papers beside, then a lock held from outside. */
export async function runLocked(seconds: number, entries: number): Promise<boolean> {
  const stage = await openStage(entries, { name: 'locked' });
  await openTheDay([stage]);
  const endsAt = Date.now() + seconds * 1000 + heldMs + 10_000;
  const isOver = () => Date.now() >= endsAt;
  const people = peopleOf(stage, 'helper', 64);
  const [owner] = peopleOf(stage, 'owner', 1);
  const told: Written = { refused: 0, withoutTime: 0, lost: 0 };
  const work = people.map((person, i) =>
    i % 2 === 0
      ? read(person, stage.world, thinkMs, isOver)
      : write(person, stage.world, thinkMs, isOver, told),
  );
  const first = await stage.service.sample();
  await alongside(stage, owner!);
  await wait(Math.max(0, endsAt - heldMs - 8_000 - Date.now()));
  const { from, until } = await holdLock(join(stage.service.folder, 'broodbench.db'), heldMs);
  const letGo = await until;
  await Promise.all(work);
  const last = await stage.service.sample();
  const answers = [...people, owner!].flatMap((person) => person.answers);
  for (const person of [...people, owner!]) person.leave();
  await stage.service.stop();
  sayPages(answers, goalMs);
  saySamples([first, last]);
  return judge(answers, from, letGo, told);
}
