// `npm run prove -- small-disk`, as root on Linux: a disk of 64 MB is made in memory, is the data folder of a service
// that really runs, and is filled to the last byte again and again while people work.
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import {
  closeSync,
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statfsSync,
  statSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { sha256OfFile } from '../../server/plumbing/lasting-files.ts';
import { readMigrations } from '../../server/plumbing/migrate.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { clearFolders } from '../backups/shelf.ts';
import { startMailServer } from '../support/mail-server.ts';
import { brokenIn, markedForms, marksIn, Writer } from './marks.ts';
import { folderAt } from './older.ts';
import { pause, quantile, SignedIn } from './signed-in.ts';
import { endStage, makeStage, type Stage } from './storm.ts';

const rounds = Number(process.env.PROVE_ROUNDS ?? 20);
const writers = 4;
const root = fileURLToPath(new URL('../..', import.meta.url));

const disk = mkdtempSync(join(tmpdir(), 'small-disk-'));
const filler = join(disk, 'filler');
const children: ChildProcess[] = [];
const stages: Stage[] = [];
afterAll(async () => {
  for (const child of children) child.kill('SIGKILL');
  await pause(300);
  execFileSync('umount', ['-l', disk]);
  rmSync(disk, { recursive: true });
  for (const stage of stages) endStage(stage);
  clearFolders();
});

/** Takes all the room there is, but for so many bytes. */
function fill(leaveBytes = 0) {
  const file = openSync(filler, 'a', 0o600);
  const { bavail, bsize } = statfsSync(disk);
  const piece = Buffer.alloc(65_536, 'x');
  try {
    for (let left = bavail * bsize - leaveBytes; left > 0; )
      left -= writeSync(file, piece, 0, Math.min(piece.length, left));
    // What somebody gives back meanwhile is taken too.
    while (leaveBytes === 0) writeSync(file, piece);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error;
  } finally {
    closeSync(file);
  }
}

/** The service with everything on the small disk, its log too. */
async function start(
  folder: string,
  settings: Record<string, string> = {},
  log = join(folder, 'service.log'),
) {
  const to = openSync(log, 'a', 0o600);
  const said = statSync(log).size;
  const child = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
    cwd: root,
    env: {
      PATH: process.env.PATH,
      DATA_DIR: folder,
      PORT: '0',
      LOG_LEVEL: 'info',
      MIN_FREE_MB: '20',
      ...settings,
    },
    stdio: ['ignore', to, to],
  });
  closeSync(to);
  children.push(child);
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  for (let waited = 0; waited < 60_000 && child.exitCode === null; waited += 50) {
    const words = readFileSync(log, 'utf8').slice(said);
    const address = /^Open (http:\/\/127\.0\.0\.1:\d+)/m.exec(words)?.[1];
    if (address) return { child, ended, address, words };
    await pause(50);
  }
  return { child, ended, address: '', words: readFileSync(log, 'utf8').slice(said) };
}

const count = new Map<string, number>();
const add = (what: string, n = 1) => count.set(what, (count.get(what) ?? 0) + n);
const wrong: string[] = [];

const pages = [
  '/round',
  '/orders',
  '/cultures',
  '/surplus',
  '/cultures/STORM-1',
  '/labels/sheet.pdf?first=1&cultures=1',
];
const readTimes: number[] = [];

async function read(who: SignedIn, goesOn: () => boolean) {
  for (let at = 0; goesOn(); at += 1) {
    const path = pages[at % pages.length]!;
    const { status, ms } = await who.get(path);
    readTimes.push(ms);
    add(`read ${status}`);
    if (status !== 200) wrong.push(`${path} ${status}`);
    await pause(10);
  }
}

/** Photos that nobody counted on yet: the service keeps the newest of a person's, and lets the others go. */
const mostOpenPhotos = 20;
const photos: string[] = [];
async function sendPhotos(who: SignedIn, picture: Buffer) {
  for (let sent = 0; sent < 3; sent += 1) {
    const { status, location } = await who.upload('/cultures/STORM-2/photo', 'photo', picture);
    add(`upload ${status}`);
    if (status === 303) photos.push(location);
    else if (status !== 507 && status !== 503) wrong.push(`upload ${status}`);
    await pause(200);
  }
}

async function photoLike(): Promise<Buffer> {
  const raw = { width: 300, height: 200, channels: 3 } as const;
  const bytes = Buffer.from(Array.from({ length: 300 * 200 * 3 }, (_, index) => (index * 7919) % 251));
  return sharp(bytes, { raw }).jpeg().toBuffer();
}

/** Files without a byte that should have some; the lock and the log of a database are empty by their nature. */
function emptyFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !/(\.lock|-wal|-shm|-journal)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => statSync(path).size === 0);
}

async function oneRound(people: { writers: Writer[]; owner: SignedIn }, round: number, picture: Buffer) {
  const { owner } = people;
  let goesOn = true;
  const work = Promise.all([
    ...people.writers.map((writer) => writer.work(() => goesOn)),
    read(owner, () => goesOn),
    read(owner, () => goesOn),
    sendPhotos(owner, picture),
    owner.post('/settings/backups', {}).then(({ status }) => add(`backup ${status}`)),
  ]);
  await pause(50 + ((round * 397) % 1_100));
  fill();
  await pause(1_500);
  fill();
  await pause(1_500);
  const before = people.writers.map(({ acknowledged }) => acknowledged.length);
  rmSync(filler);
  const freed = performance.now();
  while (people.writers.some(({ acknowledged }, index) => acknowledged.length === before[index])) {
    if (performance.now() - freed > 30_000) throw new Error(`no write for 30 s; ${wrong.at(-1)}`);
    await pause(20);
  }
  const ms = performance.now() - freed;
  await pause(300);
  goesOn = false;
  await work;
  return ms;
}

describe('a disk of 64 MB that is full again and again', () => {
  it('loses nothing that was acknowledged, stays readable, and takes writes again by itself', async () => {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=64m,mode=700', 'tmpfs', disk]);
    const stage = await makeStage();
    stages.push(stage);
    copyFileSync(stage.database, join(disk, 'broodbench.db'));
    const { at, received } = await startMailServer();
    const mail = { SMTP_HOST: at.host, SMTP_PORT: String(at.port), SMTP_ENCRYPTION: 'none' };
    const service = await start(disk, mail);
    expect(service.address, service.words).not.toBe('');
    const owner = new SignedIn(service.address, stage.cookie);
    expect((await owner.get('/orders')).text).toMatch(/The disk is getting full: \d+ MB are left\./);
    const people = {
      owner,
      writers: Array.from(
        { length: writers },
        (_, index) => new Writer(new SignedIn(service.address, stage.cookie), markedForms(stage, index)),
      ),
    };
    const picture = await photoLike();
    const recovered: number[] = [];
    for (let round = 0; round < rounds; round += 1) {
      recovered.push(await oneRound(people, round, picture));
      expect(service.child.exitCode).toBeNull();
    }
    for (let waited = 0; waited < 180_000 && received.length === 0; waited += 500) await pause(500);
    const warning = received.find(({ raw }) => raw.includes('The disk of the service is getting full'));
    expect(warning?.to).toEqual(['bench@example.org']);
    for (const path of photos.slice(-mostOpenPhotos)) expect((await owner.get(path)).status).toBe(200);
    service.child.kill('SIGTERM');
    expect(await service.ended).toBe(0);

    expect([...wrong, ...people.writers.flatMap((writer) => writer.wrong)]).toEqual([]);
    for (const writer of people.writers) for (const [status, n] of writer.answers) add(`write ${status}`, n);
    const database = join(disk, 'broodbench.db');
    expect(brokenIn(database)).toEqual([]);
    const { sqlite } = openDatabase(database);
    const marks = marksIn(sqlite);
    const kept = sqlite
      .prepare('SELECT count(*) FROM count_photo_files WHERE length(bytes) > 0')
      .pluck()
      .get();
    sqlite.close();
    const told = people.writers.flatMap(({ acknowledged }) => acknowledged);
    expect(told.filter((name) => marks.get(name) !== 1)).toEqual([]);
    expect([...marks.keys()].filter((name) => !told.includes(name))).toEqual([]);
    expect(kept).toBe(Math.min(mostOpenPhotos, photos.length));
    expect(emptyFiles(disk)).toEqual([]);
    console.log(
      [
        `${rounds} times full, ${told.length} acknowledged actions and ${photos.length} photos, none lost, none doubled`,
        [...count].map(([what, n]) => `${what}: ${n}`).join(', '),
        `writes taken again after ${Math.round(quantile(recovered, 0.5))} ms (longest ${Math.round(Math.max(...recovered))})`,
        `pages p50 ${Math.round(quantile(readTimes, 0.5))} ms, p99 ${Math.round(quantile(readTimes, 0.99))} ms`,
      ].join('\n'),
    );
  }, 1_800_000);

  it('stops an upgrade that has no room, in words, and leaves the old database', async () => {
    const folder = join(disk, 'older');
    mkdirSync(folder, { mode: 0o700 });
    folderAt(readMigrations().length - 3, folder);
    const database = join(folder, 'broodbench.db');
    const before = sha256OfFile(database);
    const log = join(tmpdir(), `small-disk-${process.pid}.log`);
    const said: string[] = [];
    for (const leave of [40_000, 500_000, 1_500_000, 2_500_000, 4_000_000]) {
      fill(leave);
      const service = await start(folder, {}, log);
      rmSync(filler);
      if (service.address !== '') {
        service.child.kill('SIGTERM');
        await service.ended;
        break;
      }
      expect(await service.ended).not.toBe(0);
      expect(sha256OfFile(database)).toBe(before);
      expect(service.words).toMatch(/no room|is full/);
      said.push(`${leave} bytes free: ${service.words.trim().split('\n').at(-1)}`);
    }
    console.log(said.join('\n'));
    rmSync(log);
    expect(emptyFiles(folder)).toEqual([]);
    const service = await start(folder);
    expect(service.address, service.words).not.toBe('');
    service.child.kill('SIGTERM');
    expect(await service.ended).toBe(0);
    expect(brokenIn(database)).toEqual([]);
  }, 300_000);
});
