import { normalCdf } from '../numbers/normal.ts';
import type { PlannedCount } from './form.ts';
import type { PopulationEvent } from './population/form.ts';
import type { Likelihood } from './population/likelihood.ts';
import { POINTS } from './population/nodes.ts';
import type { Step } from './population/steps.ts';
import { numberGiven, type Prior, type Supposed } from './population/suppose.ts';

type CountEvent = Extract<PopulationEvent, { kind: 'count' }>;

/** A planned count with what it found, as an event of the day. */
export function countEventOf(planned: PlannedCount, counted: number, date: string): CountEvent {
  return { ...planned, kind: 'count', date, counted, level: 0.9 };
}

/** From how few to how many could be counted if there were `fewest` to `most` animals: hardly ever outside. */
export function countsBetween(planned: PlannedCount, fewest: number, most: number): [number, number] {
  const [low] = counted(planned, fewest);
  const [, high] = counted(planned, most);
  return [Math.max(0, Math.floor(low)), Math.ceil(high)];
}

function counted(planned: PlannedCount, number: number): [number, number] {
  if (planned.method === 'full') {
    const factor = Math.exp(5 * planned.relativeSd);
    return [number / factor - 1, number * factor + 1];
  }
  const { mean, variance } = planned.method === 'visible' ? shown(planned, number) : found(planned, number);
  const sd = Math.sqrt(variance);
  const high = mean + 15 * sd + 5;
  return [mean - 8 * sd - 1, planned.method === 'visible' ? Math.min(number + 1, high) : high];
}

/** Mean and variance of a beta-binomial. */
function shown({ detection: { alpha, beta } }: Extract<PlannedCount, { method: 'visible' }>, number: number) {
  const both = alpha + beta;
  const mean = (number * alpha) / both;
  return { mean, variance: (mean * (beta / both) * (both + number)) / (both + 1) };
}

/** Mean and variance of a negative binomial. */
function found({ fraction, clumping }: Extract<PlannedCount, { method: 'sample' }>, number: number) {
  const mean = fraction * number;
  return { mean, variance: mean + mean ** 2 / clumping };
}

/** Up to this count, rounding to whole animals is too coarse for a density to stand for it. */
const LOG_FEW = Math.log(12);

/**
 * The log of how likely a count is, from what supposing it gave: the likelihood of a full count lacks what
 * does not depend on N. A full count finds `counted` where N with its error is rounded to that.
 */
export function logChanceOf(prior: Prior, planned: PlannedCount, step: Step, supposed: Supposed): number {
  if (planned.method !== 'full' || step.kind !== 'log-normal') return supposed.logChance;
  const [logCounted, sd] = step.values;
  if (logCounted > LOG_FEW) return supposed.logChance - logCounted - Math.log(sd * Math.sqrt(2 * Math.PI));
  return numberGiven(prior, roundedTo(Math.round(Math.exp(logCounted)), planned.relativeSd)).logChance;
}

function roundedTo(counted: number, sd: number): Likelihood {
  const [low, high] = [Math.log(counted - 0.5), Math.log(counted + 0.5)];
  return {
    extinct: Number.NEGATIVE_INFINITY,
    fill(out, from, width) {
      for (let k = 0; k < POINTS; k += 1) {
        const x = from + k * width;
        out[k] = Math.log(between((low - x) / sd, (high - x) / sd));
      }
    },
  };
}

/** Farther out a normal variable does not come. */
const NEVER = 9;

/** P(low < Z < high), by the tail in which no digits are lost. */
function between(low: number, high: number): number {
  if (low > NEVER || high < -NEVER) return 0;
  return low > 0 ? normalCdf(-low) - normalCdf(-high) : normalCdf(high) - normalCdf(low);
}
