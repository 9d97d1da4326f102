import type { Clock } from './clock.ts';
import type { Db } from './open-database.ts';

/** Work that nobody asks for. Safe to run at any time and twice; returns how many rows it touched. */
export type Job = {
  name: string;
  /** Throws away what somebody wrote, for its age: waits until the clock can be trusted. */
  waits?: true;
  run: (db: Db, now: number) => number;
};

export type JobsLog = { info(o: object, m: string): void; error(o: object, m: string): void };

/** Runs each job once. One that fails is written down and does not keep the others from their turn. */
export function runJobs(
  jobs: readonly Job[],
  { db, clock, log }: { db: Db; clock: Clock; log: JobsLog },
): void {
  for (const job of jobs) {
    try {
      const rows = job.run(db, clock.now());
      if (rows > 0) log.info({ job: job.name, rows }, 'job done');
    } catch (err) {
      log.error({ err, job: job.name }, 'job failed');
    }
  }
}

const everyMs = 5 * 60_000;

/** Starts the round of jobs, the first at once; returns what stops it. Only main.ts does this. */
export function startJobs(
  jobs: readonly Job[],
  parts: { db: Db; clock: Clock; log: JobsLog; isSteady: (now: number) => boolean },
): () => void {
  const round = () => {
    const mayForget = parts.isSteady(parts.clock.now());
    runJobs(mayForget ? jobs : jobs.filter(({ waits }) => !waits), parts);
  };
  round();
  const timer = setInterval(round, everyMs);
  timer.unref();
  return () => clearInterval(timer);
}
