import { addDays, type Day, daysBetween } from '../days.ts';

export type Due = { dueOn: Day; overdueDays: number; reason: string };

/**
 * Answers: when a culture wants its next look, by the species' interval alone. A culture that was never checked is
 * due from the day it was founded.
 *
 * @param lastCheckOn day of the last check, or null
 * @param everyDays the species' interval, days
 * @returns overdueDays is negative while the day is still to come
 * @example nextCheck('2026-11-17', '2026-01-01', 7, '2026-11-25').overdueDays // 1
 */
export function nextCheck(lastCheckOn: Day | null, foundedOn: Day, everyDays: number, today: Day): Due {
  const dueOn = lastCheckOn === null ? foundedOn : addDays(lastCheckOn, everyDays);
  const overdueDays = daysBetween(dueOn, today);
  const every = everyDays === 1 ? 'every day' : `every ${everyDays} days`;
  if (lastCheckOn === null) return { dueOn, overdueDays, reason: 'never checked yet' };
  const ago = daysBetween(lastCheckOn, today);
  const last = ago === 0 ? 'today' : ago === 1 ? 'yesterday' : `${ago} days ago`;
  return { dueOn, overdueDays, reason: `last checked ${last}, wants it ${every}` };
}
