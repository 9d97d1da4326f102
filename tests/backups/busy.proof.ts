// `npm run prove -- backups`: backups are made by a service that really runs while 32 people write and send photos; each
// is restored and compared with what was acknowledged before it began, and somebody else's pages are timed meanwhile.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { verifyBackup } from '../../server/backups/inspect.ts';
import { restoreBeside } from '../../server/backups/restore.ts';
import { openCopy, openDatabase } from '../../server/plumbing/open-database.ts';
import { pause, quantile, SignedIn } from '../faults/signed-in.ts';
import { Client, endStage, makeStage, type Running, type Stage, startService } from '../faults/storm.ts';
import type { Action } from '../faults/storm-actions.ts';
import { brokenIn, lostFrom, marksIn } from '../faults/storm-left.ts';
import { clearFolders, freshFolder } from './shelf.ts';

const backups = Number(process.env.PROVE_BACKUPS ?? 100);
const writers = 32;
/** Between two forms of one writer: so that what is measured is the backup, not a machine that has too much to do. */
const betweenMs = 8_000;

let running: Running | null = null;
let stage: Stage | null = null;
afterAll(() => {
  running?.child.kill('SIGKILL');
  if (stage) endStage(stage);
  clearFolders();
});

const sumOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

/** Photos whose picture is not the one that their row names by its hash, or that have none; and how many there are. */
function photosIn(database: string) {
  const sqlite = openCopy(database, { readonly: true });
  const rows = sqlite
    .prepare('SELECT id, sha256, bytes FROM count_photos LEFT JOIN count_photo_files ON photo_id = id')
    .all() as { id: number; sha256: string; bytes: Buffer | null }[];
  sqlite.close();
  return { all: rows.length, wrong: rows.filter(({ sha256, bytes }) => !bytes || sumOf(bytes) !== sha256) };
}

async function writeOn(client: Client, address: string, goesOn: () => boolean) {
  while (goesOn()) {
    const next = client.writes + 1;
    await pause(betweenMs * Math.random());
    await client.work(address, () => client.writes < next && goesOn());
    await pause(betweenMs / 2);
  }
}

/** Pages of somebody who only looks, with a backup under way and without. */
async function look(who: SignedIn, isUnderWay: () => boolean, goesOn: () => boolean) {
  const times = { with: [] as number[], without: [] as number[], wrong: [] as number[] };
  while (goesOn()) {
    const before = isUnderWay();
    const { status, ms } = await who.get('/account');
    if (status !== 200) times.wrong.push(status);
    if (before === isUnderWay()) times[before ? 'with' : 'without'].push(ms);
    await pause(30);
  }
  return times;
}

const provenOn = (shelf: string) =>
  existsSync(shelf) ? readdirSync(shelf).filter((name) => existsSync(join(shelf, name, 'proven.json'))) : [];

/** Asks for a backup as the owner does, and waits until the service has proven it. */
async function backUp(owner: SignedIn, shelf: string): Promise<string> {
  const before = new Set(provenOn(shelf));
  const askedAt = Date.now();
  const asked = await owner.post('/settings/backups', {});
  expect(asked.status, asked.text.slice(-300)).toBe(303);
  for (let waited = 0; waited < 120_000; waited += 20) {
    const made = provenOn(shelf).find((name) => !before.has(name) && /-asked(-\d+)?$/.test(name));
    if (made) {
      // One that was under way already would not have to hold what came after it.
      expect(verifyBackup(join(shelf, made)).manifest.madeAt >= new Date(askedAt).toISOString()).toBe(true);
      return join(shelf, made);
    }
    await pause(20);
  }
  throw new Error('no backup within two minutes');
}

it('holds all that was acknowledged before it, whole, and keeps nobody waiting', async () => {
  stage = await makeStage();
  const { folder, cookie } = stage;
  const shelf = join(folder, 'backups');
  mkdirSync(shelf, { mode: 0o700 });
  running = await startService(folder);
  const { address } = running;
  expect(address, running.said()).not.toBe('');
  // The first backup of all, which the service makes by itself.
  while (provenOn(shelf).length === 0) await pause(100);
  const crowd = Array.from({ length: writers }, (_, index) => new Client(stage!, index));
  let goesOn = true;
  let isUnderWay = false;
  const work = Promise.all(crowd.map((client) => writeOn(client, address, () => goesOn)));
  const looked = look(
    new SignedIn(address, cookie),
    () => isUnderWay,
    () => goesOn,
  );
  const owner = new SignedIn(address, cookie);
  let photos = 0;
  const tookMs: number[] = [];
  await pause(5_000);
  for (let number = 0; number < backups; number += 1) {
    const told: Action[] = crowd.flatMap(({ acknowledged }) => acknowledged);
    isUnderWay = true;
    const begun = performance.now();
    const made = await backUp(owner, shelf);
    tookMs.push(performance.now() - begun);
    isUnderWay = false;
    const { manifest } = verifyBackup(made);
    expect(manifest.files.map(({ sha256 }) => sha256.length)).toEqual([64]);
    const into = freshFolder();
    restoreBeside(made, into, Date.now());
    const copy = join(into, 'broodbench.db');
    expect(brokenIn(copy)).toEqual([]);
    const { sqlite } = openDatabase(copy);
    expect(lostFrom(marksIn(sqlite), told)).toEqual([]);
    sqlite.close();
    const { all, wrong } = photosIn(copy);
    expect(wrong).toEqual([]);
    photos = all;
    rmSync(into, { recursive: true });
    await pause(500);
  }
  goesOn = false;
  await work;
  const times = await looked;
  running.child.kill('SIGTERM');
  expect(await running.ended).toBe(0);
  expect(times.wrong).toEqual([]);
  const writes = crowd.reduce((sum, client) => sum + client.writes, 0);
  const ms = (list: number[], share: number) => Math.round(quantile(list, share));
  console.log(
    [
      `${backups} backups under ${writers} writers: ${writes} forms acknowledged, ${photos} photos in the last, none missing, each the one its row names; each backup ${ms(tookMs, 0.5)} ms (longest ${Math.round(Math.max(...tookMs))})`,
      `others' pages: p50 ${ms(times.without, 0.5)} and p99 ${ms(times.without, 0.99)} ms without (${times.without.length}), p50 ${ms(times.with, 0.5)} and p99 ${ms(times.with, 0.99)} ms while one was made (${times.with.length})`,
    ].join('\n'),
  );
}, 7_200_000);
