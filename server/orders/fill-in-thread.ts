import { Piscina } from 'piscina';
import type { AllocateAnswer } from '../../shared/orders/allocate.ts';
import type { AllocateQuestion } from '../../shared/orders/allocate-form.ts';

/** What came of a question: its answer, or why there is none. */
export type Filled =
  | { answer: AllocateAnswer }
  | { answer: null; why: 'busy' | 'late' | 'too large' | 'broken'; error?: unknown };

type FromThread = { answer: AllocateAnswer } | { tooLarge: true };

/** The solver's own time. */
export const solverSeconds = 5;
/** Questions that may wait while one is being worked out. */
const mostWaiting = 2;
/** Nobody is left without an answer for longer: a connection that says nothing is closed soon after. */
const patienceMs = 12_000;

let pool: Piscina<AllocateQuestion, FromThread> | null = null;

/** One thread, started when it is first needed and ended when it has had nothing to do for a while. */
function thread(): Piscina<AllocateQuestion, FromThread> {
  pool ??= new Piscina<AllocateQuestion, FromThread>({
    filename: new URL('./fill-worker.mjs', import.meta.url).href,
    minThreads: 0,
    maxThreads: 1,
    concurrentTasksPerWorker: 1,
    idleTimeout: 60_000,
  });
  return pool;
}

/**
 * Works out which cultures fill which orders, in a thread: the solver keeps its own busy for seconds, and pages go on
 * being answered by this one.
 */
export async function fillInThread(question: AllocateQuestion): Promise<Filled> {
  const solver = thread();
  if (solver.queueSize >= mostWaiting) return { answer: null, why: 'busy' };
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), patienceMs);
  try {
    const from = await solver.run(question, { signal: patience.signal });
    return 'answer' in from ? from : { answer: null, why: 'too large' };
  } catch (error) {
    return patience.signal.aborted ? { answer: null, why: 'late' } : { answer: null, why: 'broken', error };
  } finally {
    clearTimeout(timer);
  }
}
