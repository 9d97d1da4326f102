import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { writePrivate } from './lasting-files.ts';
import type { Sqlite } from './open-database.ts';

/** Why and since when the records are only read. */
export type Pause = { since: number; words: string };

/** What the service knows of a pause. */
export type Pausing = {
  /** Null while everything can be written. */
  now(): Pause | null;
  /** Whether what was under way is done by now, so that not a byte of the records changes any more. */
  isSettled(): boolean;
};

export const noPause: Pausing = { now: () => null, isSettled: () => false };

/** Beside the database and in no backup: the machine that the records are moved to takes everything at once. */
const pauseName = 'pause.json';
export const longestWords = 200;
const told = z.object({ since: z.number(), words: z.string().max(longestWords) });

/** A file that cannot be read asks for a pause all the same: somebody has put it there. */
export function readPause(folder: string): Pause | null {
  let text: string;
  try {
    text = readFileSync(join(folder, pauseName), 'utf8');
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ENOENT' ? null : { since: 0, words: '' };
  }
  try {
    return told.parse(JSON.parse(text));
  } catch {
    return { since: 0, words: '' };
  }
}

export const beginPause = (folder: string, pause: Pause) =>
  writePrivate(join(folder, pauseName), `${JSON.stringify(pause)}\n`);

export const endPause = (folder: string) => rmSync(join(folder, pauseName), { force: true });

const lookEveryMs = 500;

type Parts = {
  folder: string;
  sqlite: Sqlite;
  log: { info(o: object, m: string): void };
};

/** Work beside the requests: begins it, and returns what stops it and waits for what is on its way. */
type Work = () => () => Promise<void>;

/** A statement that is read row by row, in turns, holds the connection: then it is tried again at the next look. */
function tell(sqlite: Sqlite, pragma: string): boolean {
  try {
    sqlite.pragma(pragma);
    return true;
  } catch {
    return false;
  }
}

/**
 * Follows the file while the service runs. From the moment it is seen no form is taken; then the work beside the requests
 * is stopped as at an end, the log put into the database, and the connection told to refuse every write, so that what is
 * only noted in passing (a visit, a notice) leaves the records as they are too. `begin` begins the work, or a pause.
 */
export function followPause({ folder, sqlite, log }: Parts) {
  let pause = readPause(folder);
  let state: 'idle' | 'working' | 'stopping' | 'settled' = 'idle';
  let stopWork = async () => {};
  let stopping = Promise.resolve();
  let timer: NodeJS.Timeout | undefined;
  const settle = () => {
    tell(sqlite, 'wal_checkpoint(TRUNCATE)');
    if (!tell(sqlite, 'query_only = ON')) return;
    state = 'settled';
    log.info({}, 'paused: the records are only read');
  };
  const goOn = (work: Work) => {
    if (!tell(sqlite, 'query_only = OFF')) return;
    if (state === 'settled') log.info({}, 'the pause is over');
    stopWork = work();
    state = 'working';
  };
  const look = (work: Work) => {
    const asked = readPause(folder);
    if (asked && state === 'working') {
      state = 'stopping';
      stopping = stopWork().then(() => {
        state = 'idle';
      });
    }
    if (asked && state === 'idle') settle();
    if (!asked && (state === 'idle' || state === 'settled')) goOn(work);
    // Until the work that was stopped is taken up again, no form is taken: the two belong together.
    pause = asked ?? (state === 'working' ? null : pause);
  };
  return {
    now: () => pause,
    isSettled: () => state === 'settled',
    begin(work: Work) {
      look(work);
      timer = setInterval(() => look(work), lookEveryMs);
      timer.unref();
    },
    async stop() {
      clearInterval(timer);
      tell(sqlite, 'query_only = OFF');
      await (state === 'working' ? stopWork() : stopping);
    },
  } satisfies Pausing & Record<string, unknown>;
}
