import type { PlannedCount } from '../../shared/counts/form.ts';
import { applyEvent } from '../../shared/counts/population/filter.ts';
import type { PopulationEvent } from '../../shared/counts/population/form.ts';
import { stateAfter } from '../../shared/counts/population/population.ts';
import { daysBetween } from '../../shared/days.ts';
import type { SurplusQuestion } from '../../shared/surplus/form.ts';
import { surplusFrom } from '../../shared/surplus/surplus.ts';
import { type Random, randomFrom } from '../support/random.ts';

/** The mean of many draws with the standard error of that mean. */
export interface Mean {
  mean: number;
  error: number;
}

/**
 * The groups that will be spare after a count, by simulation: colonies drawn from the priors live through the
 * history (each weighed by how well it explains the counts in it), are counted once more, and what that count
 * makes of the state is worked out by the filter and the surplus, in full.
 */
export function simulatedGroups(
  question: SurplusQuestion,
  planned: PlannedCount,
  draws: number,
  seed: number,
): Mean {
  const random = randomFrom(seed);
  const state = stateAfter(question);
  const known = new Map<number, number>();
  const groupsAfter = (counted: number) => {
    const event = { ...planned, kind: 'count' as const, date: question.asOf, counted, level: 0.9 };
    const spare = surplusFrom(applyEvent(state, event), { ...question, horizonWeeks: 0 });
    return spare.surplus.spareGroups;
  };
  const weights = new Float64Array(draws);
  const groups = new Float64Array(draws);
  for (let i = 0; i < draws; i += 1) {
    const { number, weight } = colony(question, random);
    const counted = countOf(number, planned, random);
    if (weight === 0) continue;
    if (!known.has(counted)) known.set(counted, groupsAfter(counted));
    weights[i] = weight;
    groups[i] = known.get(counted)!;
  }
  const sum = weights.reduce((total, w) => total + w, 0);
  const mean = weights.reduce((total, w, i) => total + w * groups[i]!, 0) / sum;
  const squares = weights.reduce((total, w, i) => total + (w * (groups[i]! - mean)) ** 2, 0);
  return { mean, error: Math.sqrt(squares) / sum };
}

function colony({ start, profile, events, asOf }: SurplusQuestion, random: Random) {
  const positive = (median: number, sdLog: number) => median * Math.exp(sdLog * random.normal());
  const growth = positive(profile.growthPerWeek.median, profile.growthPerWeek.sdLog);
  const capacity = positive(profile.capacity.median, profile.capacity.sdLog);
  let number = living(positive(start.animals, start.sdLog));
  let weight = 1;
  let day = start.date;
  const live = (until: string) => {
    const weeks = daysBetween(day, until) / 7;
    day = until;
    if (number === 0 || weeks === 0) return;
    const rise = Math.exp(growth * weeks);
    const grown = (capacity * number * rise) / (capacity + number * (rise - 1));
    number = living(positive(grown, profile.processSd * Math.sqrt(weeks)));
  };
  for (const event of events) {
    live(event.date);
    if (event.kind === 'removed') number = living(Math.max(0, number - event.animals));
    else weight *= explains(event, number);
  }
  live(asOf);
  return { number, weight };
}

function living(number: number): number {
  return number < 0.5 ? 0 : number;
}

/** How well a number explains a full count, half an animal of rounding included. */
function explains(event: PopulationEvent, number: number): number {
  if (event.kind !== 'count' || event.method !== 'full' || event.counted === 0) {
    throw new Error('not simulated here');
  }
  const variance = event.relativeSd ** 2 + 1 / (12 * event.counted ** 2);
  return number === 0 ? 0 : Math.exp(-(Math.log(event.counted / number) ** 2) / (2 * variance));
}

function countOf(number: number, planned: PlannedCount, random: Random): number {
  if (number === 0) return 0;
  if (planned.method === 'full') return Math.round(number * Math.exp(planned.relativeSd * random.normal()));
  if (planned.method === 'visible') {
    return random.binomial(Math.round(number), random.beta(planned.detection.alpha, planned.detection.beta));
  }
  const { fraction, clumping } = planned;
  return random.poisson((fraction * number * random.gamma(clumping)) / clumping);
}
