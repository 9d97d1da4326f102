import { and, eq, isNull, lt, ne, or, sql } from 'drizzle-orm';
import { Piscina } from 'piscina';
import type { WorkedOut, WorkOutInput } from '../../shared/surplus/work-out.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates, cultures } from '../schema/tables.ts';
import { gather } from './gather.ts';
import { keepWorkedOut } from './queries-estimate.ts';

/** Cultures whose estimate is not of today; a retired culture keeps its last one. */
export function staleCultures(db: Db, today: string): number[] {
  return db
    .select({ id: cultures.id })
    .from(cultures)
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(
      and(
        ne(cultures.status, 'retired'),
        or(isNull(cultureEstimates.asOf), lt(cultureEstimates.asOf, today)),
      ),
    )
    .orderBy(sql`${cultureEstimates.spareGroups} DESC`, cultures.id)
    .all()
    .map((row) => row.id);
}

export type RefreshOptions = {
  today: string;
  now: () => number;
  threads?: number;
  onProgress?: (done: number, total: number) => void;
  /** Asked between cultures: a service that is stopping does not start another. */
  isStopped?: () => boolean;
};

async function refreshOne(db: Db, pool: Piscina<WorkOutInput, WorkedOut>, id: number, o: RefreshOptions) {
  const gathered = gather(db, id, o.today);
  const worked = await pool.run(gathered.input);
  db.transaction(
    (tx) => {
      // An entry or a promise made meanwhile has brought the estimate up to today itself.
      if (gather(tx, id, o.today).version !== gathered.version) return;
      keepWorkedOut(tx, id, gathered, worked, o.now());
    },
    { behavior: 'immediate' },
  );
}

/**
 * Works out many estimates in threads, while pages go on being answered: this thread only reads the diary and
 * stores the results, culture by culture, each in a transaction of its own.
 */
async function refreshMany(db: Db, ids: readonly number[], o: RefreshOptions): Promise<void> {
  if (ids.length === 0) return;
  const threads = o.threads ?? 2;
  const pool = new Piscina<WorkOutInput, WorkedOut>({
    filename: new URL('./work-out-worker.mjs', import.meta.url).href,
    minThreads: 1,
    maxThreads: threads,
    concurrentTasksPerWorker: 1,
  });
  let next = 0;
  let done = 0;
  const lane = async () => {
    while (next < ids.length && !o.isStopped?.()) {
      const id = ids[next];
      next += 1;
      if (id === undefined) return;
      await refreshOne(db, pool, id, o);
      done += 1;
      o.onProgress?.(done, ids.length);
    }
  };
  try {
    await Promise.all(Array.from({ length: threads * 2 }, lane));
  } finally {
    await pool.close({ force: true });
  }
}

/** Brings every estimate up to today: once a day, after an import, after a change of a species. */
export const refreshStale = (db: Db, o: RefreshOptions) => refreshMany(db, staleCultures(db, o.today), o);
