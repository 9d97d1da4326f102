import { Piscina } from 'piscina';
import type { Habits } from '../../shared/counts/habits.ts';
import { type Gain, type GainInput, workOutGain } from '../../shared/surplus/work-out-gain.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type Countable, keepGain, toWorkOut } from './queries-gains.ts';

/** So many a person waits for (about a tenth of a second); more are left to threads. */
const atOnce = 12;
const threads = 2;

export type GainWork = {
  habits: Habits;
  today: string;
  log: { error(o: object, m: string): void };
};

/** One run at a time for a database: a second page that asks meanwhile finds it at work. */
const running = new WeakMap<Db, Promise<void>>();

function workOutHere(db: Db, ids: readonly number[], { habits, today }: GainWork) {
  for (const id of ids) {
    const work = toWorkOut(db, id, habits, today);
    if (work) keepGain(db, work, workOutGain(work.input));
  }
}

async function workOutInThreads(db: Db, ids: readonly number[], { habits, today }: GainWork) {
  const pool = new Piscina<GainInput, Gain>({
    filename: new URL('./gain-worker.mjs', import.meta.url).href,
    minThreads: 1,
    maxThreads: threads,
    concurrentTasksPerWorker: 1,
  });
  let next = 0;
  const lane = async () => {
    while (next < ids.length) {
      const id = ids[next];
      next += 1;
      if (id === undefined) return;
      const work = toWorkOut(db, id, habits, today);
      if (work) keepGain(db, work, await pool.run(work.input));
    }
  };
  try {
    await Promise.all(Array.from({ length: threads * 2 }, lane));
  } finally {
    await pool.close({ force: true });
  }
}

/**
 * Sees to it that the gains of these cultures are worked out: a few at once, many in threads while pages go on being
 * answered. Where an estimate is still of yesterday, it waits until the threads that bring those up to today have
 * been there.
 */
export function seeToGains(db: Db, missing: readonly Countable[], work: GainWork): void {
  const ready = missing.filter(({ estimate }) => estimate.asOf === work.today);
  if (ready.length <= atOnce) {
    workOutHere(db, ready.map(idOf), work);
  } else if (!running.has(db)) {
    const run = workOutInThreads(db, ready.map(idOf), work)
      .catch((err: unknown) => work.log.error({ err }, 'what counts would free could not be worked out'))
      .finally(() => running.delete(db));
    running.set(db, run);
  }
}

const idOf = ({ culture }: Countable) => culture.id;

/** Resolves when nothing is being worked out any more: before the database is closed. */
export const gainsAtRest = async (db: Db): Promise<void> => running.get(db);
