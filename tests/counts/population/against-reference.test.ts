import { describe, expect, test } from 'vitest';
import { type PopulationInput, populationInput } from '../../../shared/counts/population/form.ts';
import { population } from '../../../shared/counts/population/population.ts';
import { addDays } from '../../../shared/days.ts';
import { keptReference } from './kept-reference.ts';

/**
 * Of half the interval's width. A quantile of a few thousand independent draws (what is left of 200,000 after
 * the most telling counts) is off by about 2 % of it, one standard error; the filter itself by less than 1 %.
 */
const WITHIN = 0.05;
/** The probability of extinction, by as many draws. */
const EXTINCT_WITHIN = 0.01;

const FOUNDED = '2025-01-06';
const on = (weeks: number) => addDays(FOUNDED, 7 * weeks);
type Event = NonNullable<PopulationInput['events']>[number];

const full = (weeks: number, counted: number, relativeSd = 0.1): Event => ({
  date: on(weeks),
  kind: 'count',
  method: 'full',
  counted,
  relativeSd,
});
const visible = (weeks: number, counted: number): Event => ({
  date: on(weeks),
  kind: 'count',
  method: 'visible',
  counted,
  detection: { alpha: 6, beta: 14 },
});
const sample = (weeks: number, counted: number, fraction = 0.2): Event => ({
  date: on(weeks),
  kind: 'count',
  method: 'sample',
  counted,
  fraction,
});
const removed = (weeks: number, animals: number): Event => ({ date: on(weeks), kind: 'removed', animals });
const added = (weeks: number, animals: number): Event => ({ date: on(weeks), kind: 'added', animals });

interface Priors {
  animals?: number;
  startSd?: number;
  growthSd?: number;
  capacitySd?: number;
  processSd?: number;
}

function history(asOfWeek: number, events: Event[], priors: Priors = {}): PopulationInput {
  const { animals = 12, startSd = 0.1, growthSd = 0.4, capacitySd = 0.4, processSd = 0.08 } = priors;
  return {
    start: { date: FOUNDED, animals, sdLog: startSd },
    profile: {
      growthPerWeek: { median: 0.15, sdLog: growthSd },
      capacity: { median: 200, sdLog: capacitySd },
      processSd,
    },
    events,
    asOf: on(asOfWeek),
    horizonWeeks: 6,
  };
}

const scenarios: Record<string, PopulationInput> = {
  'full counts over a year, with harvests': history(52, [
    full(6, 27),
    full(12, 60),
    removed(15, 20),
    full(20, 88),
    removed(24, 24),
    full(28, 120),
    removed(30, 24),
    full(36, 155),
    full(44, 162),
    full(50, 160),
  ]),
  'only visible counts': history(
    33,
    [5, 3, 6, 8, 9, 7, 14, 12, 20, 25, 18, 33, 41, 30, 44, 52].map((seen, i) => visible(2 * i + 1, seen)),
    { startSd: 0.2, growthSd: 0.5, capacitySd: 0.5 },
  ),
  'hardly known beforehand': history(
    31,
    [6, 8, 15, 20, 40, 44, 50, 60].map((seen, i) => visible(4 * i + 2, seen)),
    { startSd: 0.3, growthSd: 0.9, capacitySd: 0.9, processSd: 0.1 },
  ),
  'almost all taken out, then none seen': history(
    12,
    [full(2, 40), removed(3, 42), visible(5, 0), visible(8, 2)],
    { animals: 30 },
  ),
  'taken out, and nothing found since': history(8, [full(2, 40), removed(3, 40), visible(5, 0)], {
    animals: 30,
  }),
  'a die-off': history(
    20,
    [
      full(2, 40),
      { date: on(6), kind: 'die-off', survival: { median: 0.1, sdLog: 0.8 } },
      visible(8, 2),
      visible(14, 4),
    ],
    { animals: 30 },
  ),
  'died out, then animals were added': history(
    14,
    [full(1, 20), removed(2, 22), added(3, 12), visible(6, 6), visible(10, 4)],
    { animals: 20 },
  ),
  'clumped samples, one of them empty': history(20, [sample(5, 4), sample(10, 14), sample(16, 0, 0.05)], {
    startSd: 0.2,
    growthSd: 0.5,
  }),
  'start and growth rate known exactly': history(30, [full(10, 55), visible(20, 40)], {
    startSd: 0,
    growthSd: 0,
  }),
  'start, growth rate and capacity known exactly': history(30, [full(10, 55), visible(20, 40)], {
    startSd: 0,
    growthSd: 0,
    capacitySd: 0,
  }),
  'hardly any noise': history(30, [full(8, 38), visible(16, 25), full(24, 160)], {
    startSd: 0.05,
    growthSd: 0.5,
    processSd: 0.01,
  }),
  'much noise': history(30, [full(4, 20), full(8, 38), full(16, 95), visible(20, 30), full(24, 160)], {
    startSd: 0.2,
    growthSd: 0.5,
    processSd: 0.3,
  }),
};

const referenceOf = keptReference(scenarios);

describe('the filter agrees with brute force (200,000 simulated cultures)', () => {
  for (const [name, input] of Object.entries(scenarios)) {
    test(name, () => {
      const ours = population(populationInput.parse(input));
      const theirs = referenceOf(name);
      const near = (
        what: string,
        band: { lower: number; median: number; upper: number },
        draws: number[],
      ) => {
        const half = (draws[2]! - draws[0]!) / 2;
        [band.lower, band.median, band.upper].forEach((value, i) => {
          const off = Math.abs(value - draws[i]!);
          expect(off, `${what}: ${value} against ${draws[i]}`).toBeLessThanOrEqual(
            WITHIN * half + 1e-4 * value,
          );
        });
      };
      near('number now', ours.now, theirs.now);
      near('fullness', ours.fullness, theirs.fullness);
      near('growth per week', ours.growthPerWeek, theirs.growth);
      near('capacity', ours.capacity, theirs.capacity);
      near('six weeks ahead', ours.forecast.at(-1)!, theirs.ahead);
      expect(Math.abs(ours.extinct - theirs.extinct)).toBeLessThan(EXTINCT_WITHIN);
      expect(Math.abs(ours.now.mean - theirs.mean)).toBeLessThan(0.02 * theirs.mean + 0.01);
    });
  }
});
