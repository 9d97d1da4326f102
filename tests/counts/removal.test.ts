import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CountEstimate, countEstimate } from '../../shared/counts/count.ts';
import { countInput, REMOVAL_ESTIMATORS } from '../../shared/counts/form.ts';
import { removalLogLikelihood, sumCatches, zippinStandardError } from '../../shared/counts/removal.ts';
import { CalculationError } from '../../shared/faults.ts';

type Estimator = (typeof REMOVAL_ESTIMATORS)[number];

function estimate(catches: number[], estimator: Estimator, level = 0.9): CountEstimate {
  return countEstimate(countInput.parse({ method: 'removal', catches, estimator, level }));
}

/** Two to six catches that fall on the whole. */
const falling = fc
  .array(fc.integer({ min: 0, max: 400 }), { minLength: 2, maxLength: 6 })
  .map((catches) => [...catches].sort((a, b) => b - a))
  .filter((catches) => (catches[0] as number) > (catches.at(-1) as number));

/** Carle and Strub's rule, tried number by number. */
function carleStrubByHand(catches: number[]): number {
  const k = catches.length;
  const total = catches.reduce((a, b) => a + b, 0);
  const x = catches.reduce((sum, c, i) => sum + (k - 1 - i) * c, 0);
  for (let n = total; ; n += 1) {
    let product = (n + 1) / (n - total + 1);
    for (let i = 1; i <= k; i += 1) product *= (k * n - x - total + 1 + k - i) / (k * n - x + 2 + k - i);
    if (product < 1) return n;
  }
}

describe('removal counts', () => {
  test('worked example', () => {
    const count = estimate([77, 50, 37], 'carle-strub');
    expect(count).toMatchObject({ estimate: 233, level: 0.9, method: 'removal', lower: 203, upper: 361 });
    expect(count.standardError).toBeCloseTo(31.358, 3);
  });

  test('carle-strub: the search finds what trying every number finds', () => {
    fc.assert(
      fc.property(falling, (catches) => {
        expect(estimate(catches, 'carle-strub').estimate).toBe(carleStrubByHand(catches));
      }),
    );
  });

  test('zippin: no other number of animals is likelier', () => {
    fc.assert(
      fc.property(falling, fc.double({ min: 0.5, max: 2, noNaN: true }), (catches, factor) => {
        const sums = sumCatches(catches);
        const best = estimate(catches, 'zippin').estimate;
        const other = Math.max(sums.total, best * factor);
        const gain = removalLogLikelihood(sums, other) - removalLogLikelihood(sums, best);
        expect(gain).toBeLessThanOrEqual(1e-9);
      }),
    );
  });

  test('whatever was caught: finite, in order, never below the animals caught', () => {
    fc.assert(
      fc.property(falling, fc.constantFrom(...REMOVAL_ESTIMATORS), (given, estimator) => {
        const catches = estimator === 'seber-two-pass' ? [given[0] as number, given.at(-1) as number] : given;
        const count = estimate(catches, estimator);
        const total = catches.reduce((a, b) => a + b, 0);
        expect(count.lower).toBeGreaterThanOrEqual(total);
        expect(count.lower).toBeLessThanOrEqual(count.estimate);
        expect(count.estimate).toBeLessThanOrEqual(count.upper);
        expect(Number.isFinite(count.upper)).toBe(true);
        expect(count.standardError).toBeGreaterThanOrEqual(0);
        expect(Number.isFinite(count.standardError)).toBe(true);
      }),
    );
  });

  test('the interval by hand: catches 1 and 0 give p(N) proportional to 1 / (2N (2N - 1)), in all ln 2', () => {
    let sum = 0;
    let upper = 0;
    while (sum < 0.95 * Math.LN2) {
      upper += 1;
      sum += 1 / (2 * upper * (2 * upper - 1));
    }
    expect(estimate([1, 0], 'carle-strub')).toMatchObject({ estimate: 1, lower: 1, upper });
  });

  test('an empty last catch still leaves room for animals that were missed', () => {
    for (const estimator of REMOVAL_ESTIMATORS) {
      const count = estimate([3, 0], estimator);
      expect(count).toMatchObject({ estimate: 3, standardError: 0, lower: 3 });
      expect(count.upper).toBeGreaterThan(5);
    }
  });

  test('Zippin’s standard error equals his formula as printed, and stays sound where that cancels', () => {
    const printed = (n: number, p: number, k: number): number => {
      const q = 1 - p;
      return Math.sqrt((n * (1 - q ** k) * q ** k) / ((1 - q ** k) ** 2 - (p * k) ** 2 * q ** (k - 1)));
    };
    expect(zippinStandardError(91, 76 / 171, 3)).toBeCloseTo(9.69, 2);
    for (const p of [0.1, 0.3, 0.6, 0.95]) {
      for (const k of [2, 3, 5]) {
        expect(zippinStandardError(120, p, k) / printed(120, p, k)).toBeCloseTo(1, 9);
      }
    }
    // Two passes: the denominator is p^4, so se = sqrt(N (1 - q^2) q^2) / p^2.
    const p = 1e-5;
    const exact = Math.sqrt(1e12 * p * (2 - p) * (1 - p) ** 2) / p ** 2;
    expect(zippinStandardError(1e12, p, 2) / exact).toBeCloseTo(1, 9);
  });

  test.each([
    ['nothing caught', [0, 0, 0], /all zero/],
    ['no decline', [5, 7], /do not decline/],
    ['level catches', [6, 6, 6], /do not decline/],
    ['rising catches', [1, 2, 9], /do not decline/],
  ] as const)('%s is refused by every estimator', (_name, catches, message) => {
    for (const estimator of REMOVAL_ESTIMATORS) {
      if (estimator === 'seber-two-pass' && catches.length !== 2) continue;
      expect(() => estimate([...catches], estimator)).toThrow(CalculationError);
      expect(() => estimate([...catches], estimator)).toThrow(message);
    }
  });

  test('a decline by a hair is either a wide answer or a clear refusal, soon', () => {
    const wide = estimate([10_000, 9_999], 'carle-strub');
    expect(wide.upper).toBeGreaterThan(wide.estimate);
    expect(() => estimate([10_000_000, 10_000_000, 9_999_999], 'zippin')).toThrow(/decline too little/);
  });
});
