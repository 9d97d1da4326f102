import { addDays, type Day, daysBetween } from '../days.ts';

/** What a due day is counted from. */
export type DueSince =
  | 'founded'
  | 'checked'
  | 'fed'
  | 'plenty-left'
  | 'none-left'
  | 'fruit-in'
  | 'found-dry'
  | 'wet'
  | 'fresh'
  | 'counted'
  | 'foretold'
  | 'looked';

/** How a due day comes about: the day it is counted from, and so many days. */
export type DueSum = {
  since: DueSince;
  from: Day;
  days: number;
  /** The days are half of so many, rounded up. */
  halfOf?: number;
  /** The days are so many months. */
  months?: number;
};

export type Due = { dueOn: Day; overdueDays: number; reason: string; sum: DueSum };

/** What is due so many days after a day that is written down. */
export function dueAfter(sum: DueSum, today: Day, reason: string): Due {
  const dueOn = addDays(sum.from, sum.days);
  return { dueOn, overdueDays: daysBetween(dueOn, today), reason, sum };
}

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
  const every = everyDays === 1 ? 'every day' : `every ${everyDays} days`;
  if (lastCheckOn === null)
    return dueAfter({ since: 'founded', from: foundedOn, days: 0 }, today, 'never checked yet');
  const ago = daysBetween(lastCheckOn, today);
  const last = ago === 0 ? 'today' : ago === 1 ? 'yesterday' : `${ago} days ago`;
  const sum = { since: 'checked', from: lastCheckOn, days: everyDays } as const;
  return dueAfter(sum, today, `last checked ${last}, wants it ${every}`);
}
