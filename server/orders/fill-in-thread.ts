import type { AllocateAnswer } from '../../shared/orders/allocate.ts';
import type { AllocateQuestion } from '../../shared/orders/allocate-form.ts';
import { oneThread } from '../plumbing/one-thread.ts';

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

const thread = oneThread<AllocateQuestion, FromThread>(new URL('./fill-worker.mjs', import.meta.url));

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
