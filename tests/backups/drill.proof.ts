// `npm run prove -- restores`: from an empty folder and a backup of a hundred megabytes to a service that answers, timed;
// and every way in which a backup can be spoilt, against a folder that is in use for something already.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { BadBackup } from '../../server/backups/inspect.ts';
import { putBack } from '../../server/backups/put-back.ts';
import { takeBackup } from '../../server/backups/take.ts';
import { sha256OfFile } from '../../server/plumbing/lasting-files.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { databaseName, manifestName, sumsName } from '../../shared/backups/manifest.ts';
import { SignedIn } from '../faults/signed-in.ts';
import { endStage, makeStage, type Running, type Stage, startService } from '../faults/storm.ts';
import { randomFrom } from '../support/random.ts';
import { cast, testNow } from '../support/test-app.ts';
import { backupOf, clearFolders, filledFolder, forge, freshFolder } from './shelf.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const bytesOfPhotos = 100_000_000;
const goalMs = 60_000;

const sumOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');

const services = new Set<Running>();
const stages: Stage[] = [];
afterAll(() => {
  for (const { child } of services) child.kill('SIGKILL');
  for (const stage of stages) endStage(stage);
  clearFolders();
});

/** A bench with photos of a hundred megabytes. */
async function largeBench(): Promise<Stage> {
  const stage = await makeStage();
  stages.push(stage);
  const { sqlite } = openDatabase(stage.database);
  const photo = sqlite.prepare(
    "INSERT INTO count_photos (culture_id, width_px, height_px, sha256, taps, made_by, made_at) VALUES (?, 96, 96, ?, '[]', ?, ?)",
  );
  const file = sqlite.prepare('INSERT INTO count_photo_files (photo_id, bytes) VALUES (?, ?)');
  const random = randomFrom(100);
  const bytes = Buffer.alloc(200_000);
  sqlite.transaction(() => {
    for (let made = 0; made < bytesOfPhotos; made += bytes.length) {
      for (let at = 0; at < bytes.length; at += 4) bytes.writeInt32LE((random.uniform() * 2 ** 31) | 0, at);
      const { id } = stage.cultures[0]!;
      file.run(photo.run(id, sumOf(bytes), cast.owner.id, Date.now()).lastInsertRowid, bytes);
    }
  })();
  sqlite.close();
  return stage;
}

/** The command as somebody types it, and what it says; its exit code where it refuses. */
function restore(...args: string[]): { code: number; said: string } {
  try {
    const said = execFileSync('npm', ['run', '--silent', 'restore', '--', ...args], {
      cwd: root,
      encoding: 'utf8',
      stdio: 'pipe',
    });
    return { code: 0, said };
  } catch (error) {
    const { status, stderr } = error as { status: number; stderr: string };
    return { code: status, said: stderr };
  }
}

/** A page as it looks, without what is drawn anew for each visit. */
async function pageOf(folder: string): Promise<string> {
  const { db, sqlite } = openDatabase(join(folder, databaseName));
  const cookie =
    (await makeSessions(db, { now: Date.now }).begin(cast.owner.id, 'drill')).split(';')[0] ?? '';
  sqlite.close();
  const service = await startService(folder);
  services.add(service);
  expect(service.address, service.said()).not.toBe('');
  const { status, text } = await new SignedIn(service.address, cookie).get('/cultures');
  expect(status).toBe(200);
  service.child.kill('SIGTERM');
  expect(await service.ended).toBe(0);
  services.delete(service);
  return text.replace(/value="[\w-]{20,}"|csrf-token&quot;:&quot;[\w-]+/g, '');
}

it('is back from a backup of 100 MB within a minute', async () => {
  const stage = await largeBench();
  const page = await pageOf(stage.folder);
  const now = Date.now();
  const shelf = freshFolder();
  const { folder } = await takeBackup({ database: stage.database, shelf, reason: 'asked', now });
  const into = join(freshFolder(), 'data');
  const begun = performance.now();
  expect(restore(folder, '--into', into)).toEqual({ code: 0, said: expect.stringMatching(/^Restored into/) });
  const restoredMs = performance.now() - begun;
  const service = await startService(into);
  services.add(service);
  expect(service.address, service.said()).not.toBe('');
  expect((await fetch(`${service.address}/sign-in`)).status).toBe(200);
  const tookMs = performance.now() - begun;
  service.child.kill('SIGTERM');
  await service.ended;
  services.delete(service);
  const again = await pageOf(into);
  const differs = [...page].findIndex((letter, at) => letter !== again[at]);
  expect([differs, differs < 0 ? '' : again.slice(differs, differs + 200)]).toEqual([-1, '']);

  const before = sha256OfFile(join(into, databaseName));
  const refused = restore(folder, '--into', into);
  expect([refused.code, sha256OfFile(join(into, databaseName))]).toEqual([1, before]);
  expect(refused.said).toMatch(/holds a database already.*--force/);
  for (const end of ['-wal', '-shm']) writeFileSync(join(into, databaseName + end), 'stale');
  expect(restore(folder, '--into', into, '--force').code).toBe(0);
  const [kept = ''] = readdirSync(into).filter((name) => name.startsWith('before-restore-'));
  expect(sha256OfFile(join(into, kept, databaseName))).toBe(before);
  expect(readFileSync(join(into, kept, `${databaseName}-wal`), 'utf8')).toBe('stale');
  for (const end of ['-wal', '-shm']) expect(existsSync(join(into, databaseName + end))).toBe(false);
  const megabytes = Math.round(statSync(join(folder, databaseName)).size / 1e6);
  console.log(
    `${megabytes} MB: restored by npm run restore after ${(restoredMs / 1000).toFixed(1)} s, a service that answers after ${(tookMs / 1000).toFixed(1)} s (goal ${goalMs / 1000}); the same page; refused without --force; kept with it`,
  );
  expect(tookMs).toBeLessThan(goalMs);
}, 600_000);

/** All below a folder but the lock, which is nobody's data. */
const pictureOf = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.name.startsWith('in-use.'))
    .map(({ parentPath, name }) => `${join(parentPath, name)} ${sha256OfFile(join(parentPath, name))}`)
    .sort();

type Spoilt = { name: string; folder: string };

/** One after the other in the same copy, which is whole again after each. */
function* cutAndTurned(copy: string): Generator<Spoilt> {
  const random = randomFrom(400);
  for (const name of [databaseName, manifestName, sumsName]) {
    const path = join(copy, name);
    const whole = readFileSync(path);
    const points = name === databaseName ? 30 : 10;
    for (let point = 0; point < points; point += 1) {
      truncateSync(path, Math.floor((whole.length * point) / points));
      yield { name: `${name} cut at ${point}/${points}`, folder: copy };
      writeFileSync(path, whole);
    }
    for (let flip = 0; flip < 134; flip += 1) {
      const spoilt = Buffer.from(whole);
      const at = Math.floor(random.uniform() * spoilt.length);
      spoilt[at] = spoilt[at]! ^ (1 << Math.floor(random.uniform() * 8));
      writeFileSync(path, spoilt);
      yield { name: `${name}, a bit of byte ${at}`, folder: copy };
    }
    writeFileSync(path, whole);
  }
}

const slips = ['../../etc/passwd', '/etc/passwd', '..\\..\\x', 'C:\\x', 'broodbench.db/../x', '\0', '.', ''];

function* forged(good: string): Generator<Spoilt> {
  const wrong: Record<string, unknown> = { schema: 999, format: 2, files: [], rows: {}, appVersion: '' };
  for (const [key, value] of Object.entries(wrong)) {
    const folder = join(freshFolder(), 'copy');
    cpSync(good, folder, { recursive: true });
    forge(folder, (manifest) => Object.assign(manifest, { [key]: value }));
    yield { name: `${key} is ${JSON.stringify(value)}`, folder };
  }
  for (const name of slips) {
    const folder = join(freshFolder(), 'copy');
    cpSync(good, folder, { recursive: true });
    forge(folder, (manifest) => Object.assign((manifest.files as object[])[0]!, { name }));
    yield { name: `a file called ${JSON.stringify(name)}`, folder };
  }
  yield { name: 'a folder that is not there', folder: join(good, 'nowhere') };
  const empty = join(freshFolder(), 'empty');
  mkdirSync(empty);
  yield { name: 'an empty folder', folder: empty };
}

it('refuses every backup that is spoilt, before anything is touched', async () => {
  const bench = await filledFolder();
  const { folder: good } = await backupOf(bench);
  const copy = join(freshFolder(), 'copy');
  cpSync(good, copy, { recursive: true });
  const before = pictureOf(bench.dir);
  let refused = 0;
  for (const cases of [cutAndTurned(copy), forged(good)])
    for (const { name, folder } of cases) {
      expect(() => putBack(folder, bench.dir, { now: testNow, force: true }), name).toThrow(BadBackup);
      expect([name, pictureOf(bench.dir)]).toEqual([name, before]);
      refused += 1;
    }
  expect(putBack(copy, bench.dir, { now: testNow, force: true }).kept).not.toBeNull();
  console.log(`${refused} spoilt backups refused (50 cuts, 402 bits), nothing of what was there touched`);
}, 1_800_000);
