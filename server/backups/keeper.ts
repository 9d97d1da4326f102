import { dirname } from 'node:path';
import { isFromTheFuture, isNightlyDue, isProofLate } from '../../shared/backups/due.ts';
import type { BackupFailure, BackupProgress, Keeper, ShelfBackup } from '../plumbing/backups.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { JobsLog } from '../plumbing/jobs.ts';
import type { Db } from '../plumbing/open-database.ts';
import { isSetUp, readBusiness } from '../settings/queries.ts';
import { rememberErased } from './erased.ts';
import { runHook } from './hook.ts';
import { listBackups } from './shelf.ts';
import type { Taken } from './take.ts';
import { takeInThread } from './take-in-thread.ts';

export type KeeperParts = {
  db: Db;
  clock: Clock;
  log: JobsLog;
  database: string;
  shelf: string;
  /** A program to run after each good backup; null for none. */
  hook: string | null;
  /** Room that a backup must leave on the disk of the data. */
  leaveBytes?: number;
  take?: typeof takeInThread;
};

const everyMs = 60_000;

/** Every page of the owner's asks; the folder is read at most once a minute. */
function readShelf(shelf: string, clock: Clock) {
  let known: ShelfBackup[] | null = null;
  let readAt = 0;
  return {
    list: () => {
      if (!known || Math.abs(clock.now() - readAt) > everyMs) {
        known = listBackups(shelf);
        readAt = clock.now();
      }
      return known;
    },
    forget: () => {
      known = null;
    },
  };
}

export function makeKeeper(parts: KeeperParts): Keeper {
  const { db, clock, log, shelf, database, hook, leaveBytes = 0, take = takeInThread } = parts;
  let progress: BackupProgress | null = null;
  let failure: BackupFailure | null = null;
  let running: Promise<void> = Promise.resolve();
  const shelved = readShelf(shelf, clock);
  const erased = rememberErased(db, [dirname(database), shelf], log);
  const fail = (why: string) => {
    failure = { at: clock.now(), why };
    log.error({ why }, 'backup failed');
  };
  const tell = async ({ name, folder, bytes, dropped }: Taken) => {
    log.info({ backup: name, bytes, dropped: dropped.length }, 'backup made and proven');
    const wrong = hook ? await runHook(hook, folder) : null;
    if (wrong) fail(wrong);
    else failure = null;
  };
  // Else the newest would be one of the future for years, and another would be made at every look.
  const ofNow = () => shelved.list().filter(({ madeAt }) => !isFromTheFuture(madeAt, clock.now()));
  const lastProvenAt = () => ofNow().find(({ provenAt }) => provenAt !== null)?.provenAt ?? null;
  const keeper: Keeper = {
    shelf,
    list: shelved.list,
    progress: () => progress,
    lastFailure: () => failure,
    lastProvenAt,
    isLate: () => isProofLate(lastProvenAt(), clock.now()),
    begin(reason) {
      if (progress) return false;
      progress = { step: 'copying', done: 0, total: 1 };
      running = take({ database, shelf, reason, now: clock.now(), leaveBytes }, (step, done, total) => {
        progress = { step, done, total };
      })
        .then(tell)
        .catch((error: unknown) => fail(error instanceof Error ? error.message : String(error)))
        .finally(() => {
          progress = null;
          shelved.forget();
        });
      return true;
    },
    rememberErased: erased.write,
    look() {
      erased.writeIfOpen();
      if (progress || !isSetUp(db)) return;
      const lastMadeAt = ofNow().find(({ reason }) => reason === 'nightly')?.madeAt ?? null;
      const { timeZone } = readBusiness(db);
      const lastFailedAt = failure?.at ?? null;
      if (isNightlyDue({ now: clock.now(), timeZone, lastMadeAt, lastFailedAt })) keeper.begin('nightly');
    },
    idle: () => running,
  };
  return keeper;
}

/** Looks every minute, and then lets others see what came of it; returns what stops it. Only main.ts does this. */
export function startKeeping(keeper: Keeper, log: JobsLog, then: () => void): () => void {
  const look = () => {
    try {
      keeper.look();
      then();
    } catch (err) {
      log.error({ err }, 'backups could not be looked at');
    }
  };
  look();
  const timer = setInterval(look, everyMs);
  timer.unref();
  return () => clearInterval(timer);
}
