import type { PlannedCount } from '../counts/form.ts';
import { type Outcomes, outcomesOf, standsFor } from '../counts/outcomes.ts';
import { constantsOf } from '../counts/population/constants.ts';
import { type Distribution, distributionOf } from '../counts/population/mixture.ts';
import type { Nodes } from '../counts/population/nodes.ts';
import { nodesOnDay } from '../counts/population/outlook.ts';
import type { PopulationState } from '../counts/population/state.ts';
import { capacityGiven } from '../counts/population/suppose.ts';
import { smoothCurve } from '../numbers/smooth-curve.ts';
import { sharesOf } from './adults.ts';
import type { SurplusSettings } from './form.ts';
import { reserveOf, spareOf } from './surplus.ts';

export interface ForeseenGroups {
  readonly groupsNow: number;
  /** The mean of the groups that will be spare once the count is made. */
  readonly expectedGroups: number;
}

/** The capacity's median is worked out for counts at these quantiles, with a smooth curve between them. */
const CAPACITY_AT = [0.001, 0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98, 0.999];
/** Where it matters more than this, the count from which on more groups are spare is looked for. */
const FINE = 0.004;
/** By so many halvings; where many groups change from count to count, single ones no longer matter. */
const MOST_HALVINGS = 4;

/**
 * How many groups a culture can be expected to spare after a count that is still to be made on `asOf`: the mean
 * of `surplus` over what the count may find, under the model.
 *
 * Up to 64 counts, evenly spread over the likely ones, are weighed by their probability under what is thought of
 * N, and the groups after each are worked out by Bayes on N alone and the rule of `surplus`; between two of them
 * the counts at which the groups change are searched for. The reserve moves with the capacity's median, which is
 * followed at nine counts by the filter's own step. No random numbers. Within about 0.02 of the full update.
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
  const outcomes = outcomesOf(now, planned, asOf);
  const fixed = settings.reserve.shareOfCapacity === 0 || state.lattice.rows === 1;
  const capacity = fixed ? () => capacityNow : capacityBy(state, nodes, outcomes);
  const points = outcomes.listed.map(({ counted, chance, number }) => {
    return { counted, chance, groups: chance > 0 ? groups(number, capacity(counted)) : 0 };
  });
  const groupsAt = (counted: number) => groups(outcomes.suppose(counted).number, capacity(counted));
  return { groupsNow: groups(now, capacityNow), expectedGroups: meanOf(points, groupsAt) };
}

/** A count, its probability, and the groups it leaves. */
interface Point {
  readonly counted: number;
  readonly chance: number;
  readonly groups: number;
}

function meanOf(points: readonly Point[], groupsAt: (counted: number) => number): number {
  const [first, last] = [points[0]!, points.at(-1)!];
  let sum = (first.chance * first.groups + last.chance * last.groups) / 2;
  for (let i = 1; i < points.length; i += 1) {
    sum += between(points[i - 1]!, points[i]!, groupsAt, MOST_HALVINGS);
  }
  return sum;
}

/** The part of the mean that lies between two counts, half of each of them included. */
function between(low: Point, high: Point, groupsAt: (counted: number) => number, halvings: number): number {
  const gap = high.counted - low.counted;
  const matters = ((low.chance + high.chance) / 2) * gap * Math.abs(high.groups - low.groups);
  if (gap <= 1 || halvings === 0 || matters < FINE) {
    return (gap * (low.chance * low.groups + high.chance * high.groups)) / 2;
  }
  const counted = Math.round((low.counted + high.counted) / 2);
  const f = (counted - low.counted) / gap;
  const chance = low.chance + f * (high.chance - low.chance);
  const middle = { counted, chance, groups: groupsAt(counted) };
  return between(low, middle, groupsAt, halvings - 1) + between(middle, high, groupsAt, halvings - 1);
}

/** The capacity's median after each count. */
function capacityBy(
  state: PopulationState,
  nodes: Nodes,
  { listed, stepFor }: Outcomes,
): (counted: number) => number {
  const numbers = listed.map(({ counted }) => counted);
  const below: number[] = [];
  listed.forEach(({ chance }, i) => {
    below.push((below[i - 1] ?? 0) + chance * standsFor(numbers, i));
  });
  const countAt = (p: number) => numbers[below.findIndex((sum) => sum >= p)] ?? numbers.at(-1)!;
  const at = [...new Set(CAPACITY_AT.map(countAt))];
  const logs = at.map((counted) => Math.log(capacityGiven(state, nodes, stepFor(counted))));
  const curve = smoothCurve(at.map(Math.log1p), logs);
  return (counted) => Math.exp(curve(Math.log1p(counted)));
}
