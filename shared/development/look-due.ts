import { addDays, type Day } from '../days.ts';

/** Whoever looked and found nothing looks again after so many days. Common practice, no source. */
export const lookAgainDays = 3;
/** Longer after the foretold days nobody learns anything from a look. Common practice, no source. */
export const givenUpDays = 14;

/**
 * Answers: from which day on somebody should look for young or adults that were foretold, or null once that says
 * nothing any more, or where it is too cold to foretell.
 *
 * @param notYetOn the last look that was looking for them and found none
 * @example lookDue({ from: '2026-11-20', to: '2026-11-27', notYetOn: '2026-11-21' }, '2026-11-25') // '2026-11-24'
 */
export function lookDue(
  { from, to, notYetOn }: { from: Day | null; to: Day | null; notYetOn: Day | null },
  today: Day,
): Day | null {
  if (from === null || to === null || today > addDays(to, givenUpDays)) return null;
  const again = notYetOn === null ? from : addDays(notYetOn, lookAgainDays);
  return again > from ? again : from;
}
