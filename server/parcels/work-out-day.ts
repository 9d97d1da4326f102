import { packingDay, sizeOf } from '../../shared/parcels/packing-day.ts';
import type { OrderOutlook, PackingDayQuestion } from '../../shared/parcels/packing-day-form.ts';
import { Refusal } from '../plumbing/errors.ts';
import { oneThread } from '../plumbing/one-thread.ts';

/** So many parcels are through sooner than a thread is asked. */
const soonDone = 1_500;
const mostWaiting = 4;
const patienceMs = 12_000;

const thread = oneThread<PackingDayQuestion, OrderOutlook[]>(new URL('./day-worker.mjs', import.meta.url));

const busy = () =>
  new Refusal(
    503,
    'Busy just now',
    'The packing day is being worked out for others. Please try again in a moment.',
  );

/**
 * A packing day worked out: a small one at once, a large one in a thread, so that other pages are answered meanwhile.
 */
export async function workOutDay(question: PackingDayQuestion): Promise<Map<number, OrderOutlook>> {
  const outlooks = sizeOf(question) <= soonDone ? packingDay(question) : await inThread(question);
  return new Map(outlooks.map((outlook) => [outlook.id, outlook]));
}

async function inThread(question: PackingDayQuestion): Promise<OrderOutlook[]> {
  const worker = thread();
  if (worker.queueSize >= mostWaiting) throw busy();
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), patienceMs);
  try {
    return await worker.run(question, { signal: patience.signal });
  } catch (error) {
    if (patience.signal.aborted) throw busy();
    throw error;
  } finally {
    clearTimeout(timer);
  }
}
