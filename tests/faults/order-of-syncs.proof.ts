// `npm run crash -- power-cut`: the service under a storm of writes, while every call that it makes to the system is
// written down. No answer may leave before what it acknowledges is on the disk; and the files as a disk holds them that
// loses its power are made anew for many moments, opened, and looked through. Needs Linux and strace.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { randomFrom } from '../support/random.ts';
import { checkpointsIn, Disk, doneIn } from './cuts.ts';
import { innerPid } from './inner.ts';
import { pause } from './signed-in.ts';
import { Client, endStage, makeStage, type Stage, startService } from './storm.ts';
import { brokenIn, lostFrom, marksIn } from './storm-left.ts';

const most = Number(process.env.POWER_CUT_WRITES ?? 5_000);
const cuts = Number(process.env.POWER_CUTS ?? 200);
/** Writes of which every byte is written down, for the cuts. */
const writesForCuts = Number(process.env.POWER_CUT_WRITES_KEPT ?? 400);

const running = new Set<number>();
const folder = mkdtempSync(join(tmpdir(), 'power-cut-'));
afterAll(() => {
  for (const pid of running) process.kill(pid, 'SIGKILL');
  rmSync(folder, { recursive: true });
});

type Seen = { answers: number; early: number; syncs: number };

/** Answers that left a thread while something it had written into the log of the database was not yet synced. */
function ordered(trace: string): Seen {
  const dirty = new Set<string>();
  const syncing = new Map<string, boolean>();
  const seen: Seen = { answers: 0, early: 0, syncs: 0 };
  for (const line of trace.split('\n')) {
    const thread = /^\d+/.exec(line)?.[0] ?? '';
    if (/ pwrite64\(\d+<[^>]*-wal>/.test(line)) dirty.add(thread);
    const isSync = / f(?:data)?sync\(\d+<[^>]*-wal>/.test(line);
    if (isSync && line.includes('<unfinished')) syncing.set(thread, true);
    const isDone = isSync
      ? / = 0\s*$/.test(line)
      : syncing.get(thread) && /f(?:data)?sync resumed.* = 0\s*$/.test(line);
    if (isDone) {
      dirty.delete(thread);
      syncing.delete(thread);
      seen.syncs += 1;
    }
    if (!/ (?:write|writev|sendto|sendmsg)\(.*"HTTP\/1\.1 303/.test(line)) continue;
    seen.answers += 1;
    if (dirty.has(thread)) seen.early += 1;
  }
  return seen;
}

type Lived = { stage: Stage; crowd: Client[]; begun: Buffer; trace: string };

/** A life of the service under so many writes, with its calls to the system in a file. */
async function traced(writes: number, settings: Record<string, string>, how: string[]): Promise<Lived> {
  const stage = await makeStage();
  const begun = readFileSync(stage.database);
  const trace = join(folder, 'trace');
  const within = ['strace', '-f', '-y', '-qq', '--seccomp-bpf', '-e', 'signal=none', '-o', trace, ...how];
  const service = await startService(stage.folder, settings, within);
  expect(service.address, service.said()).not.toBe('');
  const pid = innerPid(service.child.pid!);
  running.add(pid);
  const crowd = Array.from({ length: 8 }, (_, index) => new Client(stage, index));
  const told = () => crowd.reduce((sum, client) => sum + client.writes, 0);
  const work = Promise.allSettled(crowd.map((client) => client.work(service.address, () => told() < writes)));
  const refused = (await work).filter(({ status }) => status === 'rejected');
  process.kill(pid, 'SIGTERM');
  await Promise.race([service.ended, pause(30_000)]);
  running.delete(pid);
  expect(service.child.exitCode).toBe(0);
  expect(refused).toEqual([]);
  expect(told()).toBeGreaterThanOrEqual(writes);
  return { stage, crowd, begun, trace };
}

const calls = 'trace=pwrite64,fdatasync,fsync,write,writev,sendto,sendmsg';

async function orderOf(writes: number, settings: Record<string, string> = {}): Promise<Seen> {
  const { stage, crowd, trace } = await traced(writes, settings, ['-s', '24', '-e', calls]);
  const seen = ordered(readFileSync(trace, 'latin1'));
  rmSync(trace);
  endStage(stage);
  expect(seen.answers).toBeGreaterThanOrEqual(crowd.reduce((sum, client) => sum + client.writes, 0));
  return seen;
}

/** The service with a driver that does not wait for the log to be on the disk. */
async function withTwin<T>(work: (settings: Record<string, string>) => Promise<T>): Promise<T> {
  const twin = join(folder, 'twin.cjs');
  const driver = JSON.stringify(new URL('../../node_modules/better-sqlite3', import.meta.url).pathname);
  writeFileSync(
    twin,
    `const { prototype } = require(${driver}); const { pragma } = prototype;
prototype.pragma = function (words, ...more) { return pragma.call(this, words.replace('synchronous = FULL', 'synchronous = NORMAL'), ...more); };`,
  );
  return work({ NODE_OPTIONS: `--require ${twin}` });
}

it('sends no answer before what it says is on the disk; a twin that waits less is caught', async () => {
  const seen = await orderOf(most);
  console.log(`${seen.answers} answers, ${seen.syncs} syncs of the log, ${seen.early} answers too early`);
  expect(seen.early).toBe(0);
  const broken = await withTwin((settings) => orderOf(100, settings));
  console.log(`the twin: ${broken.answers} answers, ${broken.early} too early`);
  expect(broken.early).toBeGreaterThan(50);
}, 5_400_000);

/** The moments at which the power goes: when somebody has just heard an answer, and in the middle of checkpoints. */
function momentsOf(heard: number[], checkpoints: number[], number: number): number[] {
  const pick = (from: number[], n: number) =>
    Array.from(
      { length: Math.min(n, from.length) },
      (_, index) => from[Math.floor((index * from.length) / n)]!,
    );
  const inCheckpoints = pick(checkpoints, Math.floor(number / 2));
  return [...inCheckpoints, ...pick(heard, number - inCheckpoints.length)].sort((a, b) => a - b);
}

type Lost = {
  cuts: number;
  inCheckpoints: number;
  withLoss: number;
  worst: number;
  broken: string[];
  pieces: number;
};

/** Cuts the power at many moments of one life, twice each: all that was not synced is gone, or some sectors of it. */
async function cutOften(
  number: number,
  writes: number,
  settings: Record<string, string> = {},
): Promise<Lost> {
  const bytes = ['-ttt', '-T', '-xx', '-s', '70000', '-e', 'trace=pwrite64,fdatasync,fsync,ftruncate'];
  const { stage, crowd, begun, trace } = await traced(writes, settings, bytes);
  const done = doneIn(readFileSync(trace, 'latin1'));
  rmSync(trace);
  const heard = crowd.flatMap(({ acknowledged, heardAt }) =>
    acknowledged.map((action, index) => ({ action, at: heardAt[index]! })),
  );
  const checkpoints = checkpointsIn(done, stage.database);
  const moments = momentsOf(
    heard.map(({ at }) => at).sort((a, b) => a - b),
    checkpoints,
    number,
  );
  const disk = new Disk(stage.database, begun, done);
  const lost: Lost = { cuts: 0, inCheckpoints: 0, withLoss: 0, worst: 0, broken: [], pieces: done.length };
  for (const at of moments) {
    disk.goTo(at);
    lost.cuts += 1;
    if (checkpoints.includes(at)) lost.inCheckpoints += 1;
    const told = heard.filter((one) => one.at <= at).map(({ action }) => action);
    let most = 0;
    for (const random of [null, randomFrom(lost.cuts)]) {
      const copy = join(folder, 'cut.db');
      disk.cut(copy, random);
      lost.broken.push(...brokenIn(copy));
      const { sqlite } = openDatabase(copy);
      most = Math.max(most, lostFrom(marksIn(sqlite), told).length);
      sqlite.close();
      for (const end of ['', '-wal', '-shm']) rmSync(copy + end, { force: true });
    }
    if (most > 0) lost.withLoss += 1;
    lost.worst = Math.max(lost.worst, most);
  }
  endStage(stage);
  return lost;
}

const say = ({ cuts, inCheckpoints, withLoss, worst, broken, pieces }: Lost) =>
  `${cuts} cuts (${inCheckpoints} of them in a checkpoint) among ${pieces} writes and syncs: ${withLoss} lost something acknowledged, the worst ${worst} actions; ${broken.length} faults`;

it('has all that it acknowledged after the power was cut; a twin that waits less has not', async () => {
  const lost = await cutOften(cuts, writesForCuts);
  console.log(say(lost));
  expect([lost.withLoss, lost.broken]).toEqual([0, []]);
  const broken = await withTwin((settings) => cutOften(Math.ceil(cuts / 4), 150, settings));
  console.log(`the twin: ${say(broken)}`);
  expect(broken.withLoss).toBeGreaterThan(broken.cuts / 4);
}, 5_400_000);
