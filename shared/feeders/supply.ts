import { type Day, daysBetween } from '../days.ts';
import type { FeederCulture, FeedersQuestion } from './form.ts';

/** What one culture that was started on a day gives in the week that begins on another. */
export function givesInWeek(culture: FeederCulture, startedOn: Day, weekStart: Day): number {
  const from = culture.leadDays - daysBetween(startedOn, weekStart);
  const first = Math.max(0, from);
  const last = Math.min(7, from + culture.productiveDays);
  return (Math.max(0, last - first) * culture.yield) / culture.productiveDays;
}

/**
 * What each week has for feeding: what running cultures and planned starts give, less the animals that begin new ones.
 * Below zero more are started than there are animals for: they must be bought.
 *
 * @example suppliesOf(question, [2, 0, 0])
 */
export function suppliesOf(
  { weeks, culture, running }: FeedersQuestion,
  starts: readonly number[],
): number[] {
  return weeks.map(({ weekStart }, w) => {
    let supply = -culture.seedAdults * (starts[w] ?? 0);
    for (const { startedOn, cultures } of running)
      supply += cultures * givesInWeek(culture, startedOn, weekStart);
    for (const [v, { weekStart: startedOn }] of weeks.entries()) {
      if (v > w) break;
      supply += (starts[v] ?? 0) * givesInWeek(culture, startedOn, weekStart);
    }
    return supply === 0 ? 0 : supply;
  });
}
