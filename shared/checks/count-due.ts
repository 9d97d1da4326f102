import { type Day, daysBetween } from '../days.ts';
import { type Due, dueAfter } from './due.ts';

/** Often enough for animals that do not like to be dug up. Common practice, no source. */
const atMostEveryDays = 28;
/** A count decides something when at least so many groups hang on it. Ours; no source. */
const groupsThatHang = 2;

export type CountFacts = {
  lower: number;
  upper: number;
  /** What must stay, and what is promised already. */
  reserve: number;
  promised: number;
  /** Animals that leave with one starter group. */
  groupSize: number;
  lastCountOn: Day | null;
  foundedOn: Day;
};

/** What a count decides: by the lower end not one group can go, by the upper end so many. */
export type HangingGroups = Pick<CountFacts, 'lower' | 'upper' | 'reserve' | 'promised' | 'groupSize'> & {
  groups: number;
};

/**
 * Answers: whether a culture wants a count because its interval has grown too wide for the decision what may leave it.
 * Too wide means: by the lower end not one group is sure above what must stay (and what is promised), by the upper end
 * two or more are. A known surplus and a known lack need no count, however wide the interval. Not before four weeks
 * after the last count. Null where no count is wanted.
 *
 * @example countDue({ lower: 40, upper: 120, reserve: 50, promised: 0, groupSize: 14, lastCountOn: '2026-10-01',
 *   foundedOn: '2026-01-01' }, '2026-11-25')?.dueOn // '2026-10-29'; 5 groups hang on it
 */
export function countDue(facts: CountFacts, today: Day): (Due & { hanging: HangingGroups }) | null {
  const { lower, upper, reserve, promised, groupSize, lastCountOn, foundedOn } = facts;
  const groups = (animals: number) => Math.floor(Math.max(0, animals - reserve - promised) / groupSize);
  const hanging = groups(upper);
  if (groups(lower) > 0 || hanging < groupsThatHang) return null;
  const counted = lastCountOn === null ? 'never counted' : `not counted for ${weeks(lastCountOn, today)}`;
  const sum = {
    since: lastCountOn === null ? 'founded' : 'counted',
    from: lastCountOn ?? foundedOn,
    days: atMostEveryDays,
  } as const;
  return {
    ...dueAfter(sum, today, `count: ${counted}, it may spare none or up to ${hanging} groups`),
    hanging: { lower, upper, reserve, promised, groupSize, groups: hanging },
  };
}

function weeks(from: Day, today: Day): string {
  const whole = Math.max(1, Math.round(daysBetween(from, today) / 7));
  return whole === 1 ? '1 week' : `${whole} weeks`;
}
