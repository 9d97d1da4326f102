import type { PlannedCount } from '../counts/form.ts';
import { countEventOf, countsBetween, logChanceOf } from '../counts/likely-counts.ts';
import { constantsOf } from '../counts/population/constants.ts';
import { likelihoodOf } from '../counts/population/likelihood.ts';
import { type Distribution, distributionOf, quantile } from '../counts/population/mixture.ts';
import type { Nodes } from '../counts/population/nodes.ts';
import { nodesOnDay } from '../counts/population/outlook.ts';
import type { PopulationState } from '../counts/population/state.ts';
import { type Step, stepOf } from '../counts/population/steps.ts';
import {
  capacityGiven,
  numberGiven,
  type Prior,
  priorOf,
  type Supposed,
} from '../counts/population/suppose.ts';
import { sharesOf } from './adults.ts';
import type { SurplusSettings } from './form.ts';
import { reserveOf, spareOf } from './surplus.ts';

export interface ForeseenGroups {
  readonly groupsNow: number;
  /** The mean of the groups that will be spare once the count is made. */
  readonly expectedGroups: number;
}

/** Numbers of animals beyond these quantiles are not looked for. */
const TAIL = 1e-4;
/** So many counts find out where the likely ones lie, and so many are then gone through. */
const ROUGHLY = 40;
const CLOSELY = 80;
const UNLIKELY = 1e-6;
/** The capacity's median is worked out for counts at these quantiles, and in straight lines between them. */
const CAPACITY_AT = [0.002, 0.05, 0.25, 0.5, 0.75, 0.95, 0.998];

/** A count that may come out, with what it would leave, and its share of all that may. */
interface Outcome extends Supposed {
  readonly counted: number;
  readonly share: number;
}

/**
 * How many groups a culture can be expected to spare after a count that is still to be made on `asOf`: the mean
 * of `surplus` over what the count may find, under the model.
 *
 * Each of up to 80 counts, evenly spread over the likely ones, is weighed by its probability under what is
 * thought of N, and the groups after it are worked out by `numberGiven` and the rule of `surplus`; the reserve
 * moves with the capacity's median, which is followed at seven counts. No random numbers.
 *
 * Errors: CalculationError (path asOf) where the day is before the state's last event.
 */
export function foreseenGroups(
  state: PopulationState,
  settings: SurplusSettings,
  asOf: string,
  planned: PlannedCount,
): ForeseenGroups {
  const nodes = nodesOnDay(state, asOf);
  const now = distributionOf(state.lattice, nodes, 'N');
  const shares = sharesOf(settings.adultShare);
  const groups = (number: Distribution, capacity: number) =>
    spareOf(number, settings, settings.promised, reserveOf(settings.reserve, capacity), shares).groups;
  const capacityNow = constantsOf(state, { r: 0, k: 1 }, 0.5).median;
  const groupsNow = groups(now, capacityNow);
  const stepFor = (counted: number) => stepOf(countEventOf(planned, counted, asOf));
  const outcomes = outcomesOf(now, planned, stepFor);
  const fixed = settings.reserve.shareOfCapacity === 0 || state.lattice.rows === 1;
  const capacity = fixed ? () => capacityNow : capacityBy(state, nodes, outcomes, stepFor);
  let expectedGroups = 0;
  for (const { counted, share, number } of outcomes) {
    if (share > 0) expectedGroups += share * groups(number, capacity(counted));
  }
  return { groupsNow, expectedGroups };
}

/** The counts that may come out. Their shares add up to one. */
export function outcomesOf(
  now: Distribution,
  planned: PlannedCount,
  stepFor: (counted: number) => Step,
): Outcome[] {
  const prior = priorOf(now);
  const living = 1 - now.nil;
  const [fewest, most] = countsBetween(
    planned,
    now.nil > 0 ? 0 : quantile(now, TAIL),
    quantile(now, now.nil + living * (1 - TAIL)),
  );
  const roughly = weighed(prior, planned, spread(fewest, most, ROUGHLY), stepFor);
  const likely = roughly.flatMap(({ share }, i) => (share > UNLIKELY ? [i] : []));
  const first = roughly[Math.max(0, (likely[0] ?? 0) - 1)]!.counted;
  const last = roughly[Math.min(roughly.length - 1, (likely.at(-1) ?? 0) + 1)]!.counted;
  return weighed(prior, planned, spread(first, last, CLOSELY), stepFor);
}

/** Whole numbers from low to high, all of them or so many, with even steps of log(1 + number). */
function spread(low: number, high: number, count: number): number[] {
  if (high - low < count) return Array.from({ length: high - low + 1 }, (_, i) => low + i);
  const ratio = Math.log((high + 1) / (low + 1)) / (count - 1);
  const numbers = Array.from({ length: count }, (_, i) => Math.round((low + 1) * Math.exp(i * ratio) - 1));
  return [...new Set(numbers)];
}

function weighed(
  prior: Prior,
  planned: PlannedCount,
  numbers: readonly number[],
  stepFor: (counted: number) => Step,
): Outcome[] {
  const highest = prior.from + prior.density.length * prior.step;
  const found = numbers.map((counted, i) => {
    const step = stepFor(counted);
    const supposed = numberGiven(prior, likelihoodOf(step, highest));
    // How many whole numbers it stands for: half of those to its neighbours.
    const stands = ((numbers[i + 1] ?? counted + 1) - (numbers[i - 1] ?? counted - 1)) / 2;
    return { ...supposed, counted, log: logChanceOf(prior, planned, step, supposed) + Math.log(stands) };
  });
  const top = Math.max(...found.map(({ log }) => log));
  const sum = found.reduce((total, { log }) => total + Math.exp(log - top), 0);
  return found.map(({ log, ...outcome }) => ({ ...outcome, share: Math.exp(log - top) / sum }));
}

/** The capacity's median after each count. */
function capacityBy(
  state: PopulationState,
  nodes: Nodes,
  outcomes: readonly Outcome[],
  stepFor: (counted: number) => Step,
): (counted: number) => number {
  const at = [...new Set(CAPACITY_AT.map((p) => countAt(outcomes, p)))];
  const logs = at.map((counted) => Math.log(capacityGiven(state, nodes, stepFor(counted))));
  return (counted) => {
    const above = at.findIndex((known) => known >= counted);
    if (above <= 0) return Math.exp(logs.at(above)!);
    const [low, high] = [Math.log1p(at[above - 1]!), Math.log1p(at[above]!)];
    const f = (Math.log1p(counted) - low) / (high - low);
    return Math.exp(logs[above - 1]! + f * (logs[above]! - logs[above - 1]!));
  };
}

function countAt(outcomes: readonly Outcome[], p: number): number {
  let below = 0;
  for (const { counted, share } of outcomes) {
    below += share;
    if (below >= p) return counted;
  }
  return outcomes.at(-1)!.counted;
}
