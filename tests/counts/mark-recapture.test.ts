import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CountEstimate, countEstimate } from '../../shared/counts/count.ts';
import { countInput, MARK_RECAPTURE_ESTIMATORS } from '../../shared/counts/form.ts';
import { CalculationError } from '../../shared/faults.ts';

type Estimator = (typeof MARK_RECAPTURE_ESTIMATORS)[number];

function estimate(
  [marked, caught, recaptured]: readonly [number, number, number],
  estimator: Estimator,
  level = 0.9,
): CountEstimate {
  return countEstimate(
    countInput.parse({ method: 'mark-recapture', marked, caught, recaptured, estimator, level }),
  );
}

const numbers = fc
  .tuple(fc.integer({ min: 1, max: 800 }), fc.integer({ min: 1, max: 800 }), fc.nat(800))
  .map(([marked, caught, any]) => [marked, caught, any % (Math.min(marked, caught) + 1)] as const);

describe('mark and recapture', () => {
  test('the figures of the example: chapman and its standard error (Seber 1970)', () => {
    const count = estimate([346, 184, 49], 'chapman');
    expect(count.estimate).toBeCloseTo((347 * 185) / 50 - 1, 10);
    expect(count.standardError).toBeCloseTo(Math.sqrt((347 * 185 * 297 * 135) / (50 ** 2 * 51)), 10);
    expect(count.upper - count.estimate).toBeCloseTo(1.6448536 * (count.standardError as number), 4);
  });

  test('petersen and its standard error', () => {
    const count = estimate([346, 184, 49], 'petersen');
    expect(count.estimate).toBeCloseTo((346 * 184) / 49, 10);
    expect(count.standardError).toBeCloseTo(Math.sqrt((346 ** 2 * 184 * 135) / 49 ** 3), 10);
  });

  test('whatever was caught: finite, in order, never below the different animals seen', () => {
    fc.assert(
      fc.property(numbers, fc.constantFrom(...MARK_RECAPTURE_ESTIMATORS), (given, estimator) => {
        const [marked, caught, recaptured] = given;
        if (estimator === 'petersen' && recaptured === 0) return;
        const count = estimate(given, estimator);
        expect(count.lower).toBeGreaterThanOrEqual(marked + caught - recaptured - 1e-9);
        expect(count.lower).toBeLessThanOrEqual(count.estimate);
        expect(count.estimate).toBeLessThanOrEqual(count.upper);
        expect(Number.isFinite(count.upper)).toBe(true);
        expect(Number.isFinite(count.standardError)).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  test('more recaptures mean fewer animals', () => {
    fc.assert(
      fc.property(numbers, fc.constantFrom(...MARK_RECAPTURE_ESTIMATORS), (given, estimator) => {
        const [marked, caught, recaptured] = given;
        if (recaptured + 1 > Math.min(marked, caught) || (estimator === 'petersen' && recaptured === 0))
          return;
        const more = estimate([marked, caught, recaptured + 1], estimator);
        expect(more.estimate).toBeLessThan(estimate(given, estimator).estimate);
      }),
    );
  });

  test('petersen refuses a catch without recaptures and says what to do', () => {
    expect(() => estimate([20, 15, 0], 'petersen')).toThrow(CalculationError);
    expect(() => estimate([20, 15, 0], 'petersen')).toThrow(/chapman gives a number/);
  });

  test('every animal of the catch marked: no false certainty', () => {
    // P(all 5 marked | N) = C(20, 5) / C(N, 5) stays above 0.05 up to N = 34, by hand.
    const choose5 = (n: number) => (n * (n - 1) * (n - 2) * (n - 3) * (n - 4)) / 120;
    expect(choose5(20) / choose5(34)).toBeGreaterThan(0.05);
    expect(choose5(20) / choose5(35)).toBeLessThan(0.05);
    for (const estimator of MARK_RECAPTURE_ESTIMATORS) {
      expect(estimate([20, 5, 5], estimator)).toMatchObject({ estimate: 20, lower: 20, upper: 34 });
    }
  });

  test('few recaptures: the exact bound where the normal one has no upper end', () => {
    const count = estimate([10, 15, 1], 'petersen');
    // P(at least one recapture | N) > 0.05: 1 - C(N - 10, 15) / C(N, 15).
    const none = (n: number) => {
      let p = 1;
      for (let i = 0; i < 15; i += 1) p *= (n - 10 - i) / (n - i);
      return p;
    };
    expect(1 - none(count.upper)).toBeGreaterThan(0.05);
    expect(1 - none(count.upper + 1)).toBeLessThanOrEqual(0.05);
  });
});
