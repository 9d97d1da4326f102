import type { PlannedCount } from './form.ts';
import { countEventOf, countsBetween, logChanceOf } from './likely-counts.ts';
import { likelihoodOf } from './population/likelihood.ts';
import { type Distribution, quantile } from './population/mixture.ts';
import { type Step, stepOf } from './population/steps.ts';
import { numberGiven, type Prior, priorOf, type Supposed } from './population/suppose.ts';

/** Numbers of animals beyond these quantiles are not looked for. */
const TAIL = 1e-4;
/** So many counts find out where the likely ones lie, and so many are then gone through. */
const ROUGHLY = 40;
const CLOSELY = 64;
const UNLIKELY = 1e-6;

/** A count that may come out, with what it would leave of N. */
export interface Outcome extends Supposed {
  readonly counted: number;
  /** The probability of this count. */
  readonly chance: number;
}

/** What a planned count may find. */
export interface Outcomes {
  /**
   * The likely counts: all, or some with even steps of log(1 + counted). Their chances, with all the counts between two of them in a
   * straight line, sum to one.
   */
  readonly listed: readonly Outcome[];
  /** What any count would leave of N. */
  suppose(counted: number): Supposed;
  /** The count as the filter takes it. */
  stepFor(counted: number): Step;
}

/** What a count planned for a day may find, where N is known as far as `now` says. */
export function outcomesOf(now: Distribution, planned: PlannedCount, onDay: string): Outcomes {
  const prior = priorOf(now);
  const highest = prior.from + prior.density.length * prior.step;
  const stepFor = (counted: number) => stepOf(countEventOf(planned, counted, onDay));
  const suppose = (counted: number) => numberGiven(prior, likelihoodOf(stepFor(counted), highest));
  const living = 1 - now.nil;
  const fewest = now.nil > 0 ? 0 : quantile(now, TAIL);
  const most = quantile(now, now.nil + living * (1 - TAIL));
  const ask = { prior, planned, suppose, stepFor };
  const roughly = listed(ask, evenly(...countsBetween(planned, fewest, most), ROUGHLY));
  return { listed: listed(ask, evenly(...likelyRange(roughly), CLOSELY)), suppose, stepFor };
}

/** How many whole numbers one of some ascending numbers stands for: half of those to its neighbours. */
export function standsFor(numbers: readonly number[], i: number): number {
  return ((numbers[i + 1] ?? numbers[i]! + 1) - (numbers[i - 1] ?? numbers[i]! - 1)) / 2;
}

interface Asking extends Pick<Outcomes, 'suppose' | 'stepFor'> {
  prior: Prior;
  planned: PlannedCount;
}

function listed({ prior, planned, suppose, stepFor }: Asking, numbers: readonly number[]): Outcome[] {
  const found = numbers.map((counted) => {
    const supposed = suppose(counted);
    return { ...supposed, counted, log: logChanceOf(prior, planned, stepFor(counted), supposed) };
  });
  const top = Math.max(...found.map(({ log }) => log));
  const sum = found.reduce((total, { log }, i) => total + standsFor(numbers, i) * Math.exp(log - top), 0);
  return found.map(({ log, ...outcome }) => ({ ...outcome, chance: Math.exp(log - top) / sum }));
}

function likelyRange(roughly: readonly Outcome[]): [number, number] {
  const numbers = roughly.map(({ counted }) => counted);
  const likely = roughly.flatMap(({ chance }, i) => (chance * standsFor(numbers, i) > UNLIKELY ? [i] : []));
  const first = Math.max(0, likely[0]! - 1);
  const last = Math.min(roughly.length - 1, likely.at(-1)! + 1);
  return [numbers[first]!, numbers[last]!];
}

/** Whole numbers from low to high, all of them or so many, with even steps of log(1 + number). */
function evenly(low: number, high: number, count: number): number[] {
  if (high - low < count) return Array.from({ length: high - low + 1 }, (_, i) => low + i);
  const ratio = Math.log((high + 1) / (low + 1)) / (count - 1);
  const numbers = Array.from({ length: count }, (_, i) => Math.round((low + 1) * Math.exp(i * ratio) - 1));
  return [...new Set(numbers)];
}
