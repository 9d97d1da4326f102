import type { DueSum } from '../checks/due.ts';
import { addDays, type Day } from '../days.ts';

/** Whoever looked and found nothing looks again after so many days. Common practice, no source. */
const lookAgainDays = 3;
/** Longer after the foretold days nobody learns anything from a look. Common practice, no source. */
const givenUpDays = 14;

/**
 * Answers: from which day on somebody should look for young or adults that were foretold, as the day it is counted from
 * and so many days after it; null once that says nothing any more, or where it is too cold to foretell.
 *
 * @param notYetOn the last look that was looking for them and found none
 * @example lookDue({ from: '2026-11-20', to: '2026-11-27', notYetOn: '2026-11-21' }, '2026-11-25')
 * // three days after '2026-11-21'
 */
export function lookDue(
  { from, to, notYetOn }: { from: Day | null; to: Day | null; notYetOn: Day | null },
  today: Day,
): DueSum | null {
  if (from === null || to === null || today > addDays(to, givenUpDays)) return null;
  if (notYetOn !== null && addDays(notYetOn, lookAgainDays) > from)
    return { since: 'looked', from: notYetOn, days: lookAgainDays };
  return { since: 'foretold', from, days: 0 };
}
