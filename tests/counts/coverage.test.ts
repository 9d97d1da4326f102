import { describe, expect, test } from 'vitest';
import { countEstimate } from '../../shared/counts/count.ts';
import { type Count, countInput } from '../../shared/counts/form.ts';
import { CalculationError } from '../../shared/faults.ts';
import { type Random, randomFrom } from '../support/random.ts';

const RUNS = 800;

/** How often the 90 % interval holds the truth, over counts drawn from the method's own model. */
function coverage(seed: number, truth: number, draw: (random: Random) => Omit<Count, 'level'>): number {
  const random = randomFrom(seed);
  let held = 0;
  let counted = 0;
  for (let run = 0; run < RUNS; run += 1) {
    try {
      const { lower, upper } = countEstimate(countInput.parse({ ...draw(random), level: 0.9 }));
      if (lower <= truth && truth <= upper) held += 1;
      counted += 1;
    } catch (error) {
      // An estimator that refuses makes no claim that could be wrong.
      if (!(error instanceof CalculationError)) throw error;
    }
  }
  expect(counted).toBeGreaterThan(0.9 * RUNS);
  return held / counted;
}

function expectBetween(value: number, low: number, high: number): void {
  expect(value).toBeGreaterThanOrEqual(low);
  expect(value).toBeLessThanOrEqual(high);
}

function catches(random: Random, animals: number, share: number, passes: number): number[] {
  let left = animals;
  return Array.from({ length: passes }, () => {
    const caught = random.binomial(left, share);
    left -= caught;
    return caught;
  });
}

/** Draws without putting back: so many of the catch carry the mark. */
function recaptures(random: Random, animals: number, marked: number, caught: number): number {
  let found = 0;
  for (let i = 0; i < caught; i += 1) {
    if (random.uniform() * (animals - i) < marked - found) found += 1;
  }
  return found;
}

describe('simulated counts: 90 % intervals hold the truth about 90 % of the time', () => {
  test('full', () => {
    const held = coverage(1, 400, (random) => ({
      method: 'full',
      counted: Math.round(400 * Math.exp(0.05 * random.normal())),
      relativeSd: 0.05,
    }));
    expectBetween(held, 0.87, 0.93);
  });

  test('visible', () => {
    const held = coverage(2, 300, (random) => ({
      method: 'visible',
      counted: random.binomial(300, random.beta(6, 14)),
      detection: { alpha: 6, beta: 14 },
    }));
    expectBetween(held, 0.87, 0.95);
  });

  test('sample', () => {
    const held = coverage(3, 200, (random) => ({
      method: 'sample',
      counted: random.poisson((random.gamma(4) * 0.25 * 200) / 4),
      fraction: 0.25,
      clumping: 4,
    }));
    expectBetween(held, 0.87, 0.95);
  });

  test.each(['carle-strub', 'zippin'] as const)('removal, %s', (estimator) => {
    const draw = (share: number) => (random: Random) => ({
      method: 'removal' as const,
      catches: catches(random, 150, share, 3),
      estimator,
    });
    expectBetween(coverage(4, 150, draw(0.4)), 0.86, 0.95);
    expectBetween(coverage(5, 150, draw(0.6)), 0.86, 0.97);
  });

  test('mark and recapture', () => {
    const draw = (estimator: 'chapman' | 'petersen') => (random: Random) => ({
      method: 'mark-recapture' as const,
      marked: 120,
      caught: 120,
      recaptured: recaptures(random, 300, 120, 120),
      estimator,
    });
    expectBetween(coverage(6, 300, draw('petersen')), 0.87, 0.95);
    // Chapman's published interval is symmetric and a little short.
    expectBetween(coverage(7, 300, draw('chapman')), 0.85, 0.93);
  });
});
