import type { Highs } from 'highs';
import type { Day } from '../days.ts';
import { forgetSolver, loadSolver, solve } from '../orders/solver.ts';
import type { FeedersQuestion } from './form.ts';
import { type Plan, planOf, problemOf } from './plan-problem.ts';
import { suppliesOf } from './supply.ts';

export interface FeederWeek {
  weekStart: Day;
  demand: number;
  supply: number;
  short: boolean;
}

export interface Feeders {
  starts: { weekStart: Day; cultures: number }[];
  weeks: FeederWeek[];
}

/** For each of the three questions; what was found by then is answered. */
const SECONDS = 3;
/** Sums of decimals miss a whole number by their last digits; a ten-thousandth of an animal feeds nobody. */
const CLOSE = 1e-4;

const wholes = (values: ArrayLike<number>, from: number, count: number) =>
  Array.from({ length: count }, (_, i) => Math.round(values[from + i] ?? 0));
const total = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

/** The fewest short weeks, then the fewest starts, then the latest: each question holds what the one before reached. */
function bestStarts(highs: Highs, plan: Plan): number[] {
  const none = Array.from({ length: plan.weeks }, () => 0);
  const first = solve(highs, problemOf(plan, 'fewest short weeks', {}), null, SECONDS).values;
  if (first === null) return none;
  const short = total(wholes(first, plan.weeks, plan.weeks));
  const second =
    solve(highs, problemOf(plan, 'fewest starts', { short }), [...first], SECONDS).values ?? first;
  const starts = total(wholes(second, 0, plan.weeks));
  const third = solve(
    highs,
    problemOf(plan, 'latest starts', { short, starts }),
    [...second],
    SECONDS,
  ).values;
  return wholes(third ?? second, 0, plan.weeks);
}

/**
 * How many feeder cultures to start, and in which weeks. A culture gives nothing before `leadDays`, then `yield` animals
 * spread evenly over `productiveDays`; starting one takes `seedAdults` animals out of that week. Starts are at the
 * beginning of a week.
 *
 * The fewest starts that leave as few weeks short as can be, a week being short where less than safety x demand is
 * there; of several such plans the one that starts latest. A week too near for any start to help is short as it is, and
 * taking animals for a start may make one more short where that saves several later. A supply below zero: more animals
 * begin cultures than there are; they must be bought. Within each week supply and demand are taken as even.
 *
 * Units: days, weeks of seven days from the days given, animals.
 * Method: mixed-integer linear programs (branch and cut, HiGHS: Huangfu and Hall 2018). The model is our own.
 * Errors: weeks out of step; a culture that takes as many animals as it gives.
 *
 * @example (await feeders(feedersInput.parse({ weeks: [{ weekStart: '2026-11-02', demand: 0 },
 *   { weekStart: '2026-11-09', demand: 100 }], culture: { leadDays: 7, productiveDays: 7, yield: 150, seedAdults: 0 },
 *   safety: 1.2 }))).starts // [{ weekStart: '2026-11-02', cultures: 1 }]: 150 for 120
 */
export async function feeders(question: FeedersQuestion): Promise<Feeders> {
  const starts = question.weeks.length === 0 ? [] : await startsFor(question);
  const supplies = suppliesOf(question, starts);
  return {
    starts: question.weeks.flatMap(({ weekStart }, w) =>
      (starts[w] ?? 0) > 0 ? [{ weekStart, cultures: starts[w] ?? 0 }] : [],
    ),
    weeks: question.weeks.map(({ weekStart, demand }, w) => {
      const supply = supplies[w] ?? 0;
      return { weekStart, demand, supply, short: supply < question.safety * demand - CLOSE };
    }),
  };
}

async function startsFor(question: FeedersQuestion): Promise<number[]> {
  const highs = await loadSolver();
  try {
    return bestStarts(highs, planOf(question));
  } catch (error) {
    forgetSolver();
    throw error;
  }
}
