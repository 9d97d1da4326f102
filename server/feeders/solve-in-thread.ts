import type { Feeders } from '../../shared/feeders/feeders.ts';
import type { FeedersQuestion } from '../../shared/feeders/form.ts';
import { oneThread } from '../plumbing/one-thread.ts';

/** Answers that are remembered: those of every feeder species of a day, some times over. */
const most = 100;
const solved = new Map<string, Promise<Feeders>>();

const thread = oneThread<FeedersQuestion, Feeders>(new URL('./feeders-worker.mjs', import.meta.url));

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
