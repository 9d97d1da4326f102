import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { buildApp } from '../../server/app.ts';
import { faultOf } from '../../server/backups/inspect.ts';
import { makeKeeper } from '../../server/backups/keeper.ts';
import { readConfig } from '../../server/config.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { CannotStart, type Prepared, prepare } from '../../server/prepare.ts';
import { databaseName } from '../../shared/backups/manifest.ts';
import type { Random } from '../support/random.ts';
import { cast, TestClock } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

/** A database with a log beside it that was not put in its place yet, as a killed service leaves them. */
export type Crashed = { database: Buffer; log: Buffer };

export const damages = [
  'bit',
  'page',
  'cut',
  'log bit',
  'log cut',
  'log of another',
  'page at work',
  'cut at work',
] as const;
export type Damage = (typeof damages)[number];

const pageBytes = 4_096;

function withBit(bytes: Buffer, random: Random): Buffer {
  const spoilt = Buffer.from(bytes);
  const at = Math.floor(random.uniform() * spoilt.length);
  spoilt[at] = spoilt[at]! ^ (1 << Math.floor(random.uniform() * 8));
  return spoilt;
}

/** A page in which there is something else, as a disk that wrote to the wrong place leaves it. */
function withPage(bytes: Buffer, random: Random): Buffer {
  const spoilt = Buffer.from(bytes);
  const page = Math.floor((random.uniform() * spoilt.length) / pageBytes);
  const other = Math.floor((random.uniform() * spoilt.length) / pageBytes);
  bytes.copy(spoilt, page * pageBytes, other * pageBytes, (other + 1) * pageBytes);
  return spoilt;
}

const cut = (bytes: Buffer, random: Random) => bytes.subarray(0, Math.floor(random.uniform() * bytes.length));

function spoil(damage: Damage, { database, log }: Crashed, other: Crashed, random: Random): Crashed {
  if (damage === 'bit') return { database: withBit(database, random), log };
  if (damage === 'page') return { database: withPage(database, random), log };
  if (damage === 'cut') return { database: cut(database, random), log };
  if (damage === 'log bit') return { database, log: withBit(log, random) };
  if (damage.endsWith('at work')) return { database, log };
  if (damage === 'log cut') return { database, log: cut(log, random) };
  return { database, log: other.log };
}

/** The same under a service that runs: all it had read is forgotten, what it reads next is damaged. */
function spoilAtWork(damage: Damage, { sqlite, database }: Prepared, random: Random): void {
  sqlite.pragma('wal_checkpoint(TRUNCATE)');
  const whole = readFileSync(database);
  if (damage === 'page at work') writeFileSync(database, withPage(whole, random));
  if (damage === 'cut at work') truncateSync(database, cut(whole, random).length);
  sqlite.pragma('shrink_memory');
}

export type Outcome = {
  how: 'refused' | 'maintenance' | 'served';
  /** What must not be: a page of a wrong kind, too many lines in the log, words that are missing. */
  wrong: string[];
  /** Whether SQLite's own deep check finds something; the nightly backup makes it. */
  isFound: boolean;
};

/** Of somebody who is signed in, or of nobody where the damaged database cannot keep that. */
function cookieFor({ db, clock }: Pick<Prepared, 'db'> & { clock: TestClock }): string | null {
  try {
    return makeSessions(db, clock).begin(cast.owner.id, 'test');
  } catch {
    return null;
  }
}

const pages = ['/round', '/orders', '/orders/1', '/cultures', '/species', '/customers', '/surplus', '/mails'];

type Scene = { prepared: Prepared; folder: string; backup: string; spoilNow: () => void };

async function serve({ prepared, folder, backup, spoilNow }: Scene): Promise<Omit<Outcome, 'isFound'>> {
  const clock = new TestClock();
  const { db, sqlite, database } = prepared;
  const lines: { o: object; m: string }[] = [];
  const log = { info: () => {}, error: () => {} };
  const keeper = makeKeeper({ db, clock, log, database, shelf: dirname(backup), hook: null });
  const config = { ...readConfig({}), logLevel: 'silent' as const, dataDir: folder };
  const app = await buildApp({ db, sqlite, clock, config, keeper });
  app.log.error = (o: unknown, m?: unknown) => void lines.push({ o: o as object, m: String(m) });
  await app.ready();
  const wrong: string[] = [];
  let hasMet = false;
  try {
    const owner = new Visitor(app, cookieFor({ db, clock }));
    spoilNow();
    for (const path of pages) {
      const { status, text } = await owner.get(path);
      const isMaintenance = status === 503 && text.includes('The records cannot be read just now');
      hasMet ||= isMaintenance;
      if (status >= 500 && !isMaintenance) wrong.push(`${path} ${status}`);
    }
  } finally {
    await app.close();
  }
  const told = lines.filter(({ m }) => m.startsWith('the database is damaged'));
  if (told.length > 1) wrong.push(`${told.length} lines in the log`);
  if (hasMet && JSON.stringify(told[0]?.o ?? {}).includes(backup) === false)
    wrong.push('the newest good backup is not named in the log');
  return { how: hasMet ? 'maintenance' : 'served', wrong };
}

type Whole = { crashed: Crashed; other: Crashed; backup: string };

/** Starts the service on a damaged database, looks at its pages, and says what came of it. */
export async function meet(damage: Damage, whole: Whole, random: Random): Promise<Outcome> {
  const folder = mkdtempSync(join(tmpdir(), 'damage-'));
  try {
    const spoilt = spoil(damage, whole.crashed, whole.other, random);
    const prepared = await startOn(folder, spoilt, whole.backup);
    if ('how' in prepared) return prepared;
    const spoilNow = () => spoilAtWork(damage, prepared, random);
    return await serveAndCheck({ prepared, folder, backup: whole.backup, spoilNow });
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function startOn(folder: string, spoilt: Crashed, backup: string): Promise<Prepared | Outcome> {
  const file = join(folder, databaseName);
  writeFileSync(file, spoilt.database);
  writeFileSync(`${file}-wal`, spoilt.log);
  const config = readConfig({ DATA_DIR: folder, BACKUP_DIR: dirname(backup) });
  try {
    return await prepare(config, new TestClock(), () => {});
  } catch (error) {
    if (!(error instanceof CannotStart)) throw error;
    const isWhole =
      readFileSync(file).equals(spoilt.database) && readFileSync(`${file}-wal`).equals(spoilt.log);
    const wrong = [
      ...(error.message.includes(backup) ? [] : [`refused without a backup: ${error.message}`]),
      ...(isWhole ? [] : ['refused, and changed all the same']),
    ];
    return { how: 'refused', wrong, isFound: true };
  }
}

async function serveAndCheck(scene: Scene): Promise<Outcome> {
  const { prepared } = scene;
  const outcome = await serve(scene);
  let isFound = true;
  try {
    isFound = faultOf(prepared.sqlite) !== null;
  } catch {
    // Not even the check could be made.
  }
  try {
    prepared.sqlite.close();
  } catch {
    // Nor closed in good order.
  }
  return { ...outcome, isFound };
}
