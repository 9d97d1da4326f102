import { Piscina } from 'piscina';
import type { Feeders } from '../../shared/feeders/feeders.ts';
import type { FeedersQuestion } from '../../shared/feeders/form.ts';

/** Answers that are remembered: those of every feeder species of a day, some times over. */
const most = 100;
const solved = new Map<string, Promise<Feeders>>();

let pool: Piscina<FeedersQuestion, Feeders> | null = null;

/** One thread, started when it is first needed and ended when it has had nothing to do for a while. */
function thread(): Piscina<FeedersQuestion, Feeders> {
  pool ??= new Piscina<FeedersQuestion, Feeders>({
    filename: new URL('./feeders-worker.mjs', import.meta.url).href,
    minThreads: 0,
    maxThreads: 1,
    concurrentTasksPerWorker: 1,
    idleTimeout: 60_000,
  });
  return pool;
}

/**
 * Which feeder cultures to start, worked out in a thread: the solver takes a tenth of a second and up to nine, and others
 * want their pages meanwhile. The same question is solved once, however many ask it.
 */
export function feedersInThread(question: FeedersQuestion): Promise<Feeders> {
  const key = JSON.stringify(question);
  const before = solved.get(key);
  const answer = before ?? thread().run(question);
  // The longest unused stands first and goes first.
  solved.delete(key);
  solved.set(key, answer);
  const [oldest] = solved.keys();
  if (solved.size > most && oldest !== undefined) solved.delete(oldest);
  // Asked for again, a question that broke is asked anew.
  if (!before) answer.catch(() => solved.delete(key));
  return answer;
}
