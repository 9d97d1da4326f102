// `npm run crash -- power-cut`: the service under a storm of writes, while every call that it makes to the system is
// written down: no answer may leave before what it acknowledges is on the disk. Needs Linux and strace.
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { pause } from './signed-in.ts';
import { Client, endStage, makeStage, startService } from './storm.ts';

const most = Number(process.env.POWER_CUT_WRITES ?? 5_000);

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

async function traced(writes: number, settings: Record<string, string>): Promise<Seen> {
  const stage = await makeStage();
  const to = join(tmpdir(), `syncs-${process.pid}`);
  const calls = 'trace=pwrite64,fdatasync,fsync,write,writev,sendto,sendmsg';
  const within = ['strace', '-f', '-y', '-qq', '-s', '24', '-e', calls, '-e', 'signal=none', '-o', to];
  const service = await startService(stage.folder, settings, within);
  expect(service.address, service.said()).not.toBe('');
  const crowd = Array.from({ length: 8 }, (_, index) => new Client(stage, index));
  const told = () => crowd.reduce((sum, client) => sum + client.writes, 0);
  const work = Promise.allSettled(crowd.map((client) => client.work(service.address, () => told() < writes)));
  const refused = (await work).filter(({ status }) => status === 'rejected');
  service.child.kill('SIGTERM');
  await Promise.race([service.ended, pause(10_000)]);
  const seen = ordered(readFileSync(to, 'utf8'));
  rmSync(to);
  endStage(stage);
  expect(refused).toEqual([]);
  expect(seen.answers).toBeGreaterThanOrEqual(told());
  return seen;
}

it('sends no answer before what it says is on the disk; a twin that waits less is caught', async () => {
  const seen = await traced(most, {});
  console.log(`${seen.answers} answers, ${seen.syncs} syncs of the log, ${seen.early} answers too early`);
  expect(seen.early).toBe(0);
  const twin = join(tmpdir(), `twin-${process.pid}.cjs`);
  const driver = JSON.stringify(new URL('../../node_modules/better-sqlite3', import.meta.url).pathname);
  writeFileSync(
    twin,
    `const { prototype } = require(${driver}); const { pragma } = prototype;
prototype.pragma = function (words, ...more) { return pragma.call(this, words.replace('synchronous = FULL', 'synchronous = NORMAL'), ...more); };`,
  );
  const broken = await traced(100, { NODE_OPTIONS: `--require ${twin}` });
  rmSync(twin);
  console.log(`the twin: ${broken.answers} answers, ${broken.early} too early`);
  expect(broken.early).toBeGreaterThan(50);
}, 1_800_000);
