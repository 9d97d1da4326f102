import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CountEstimate, countEstimate } from '../../shared/counts/count.ts';
import { type CountInput, countInput } from '../../shared/counts/form.ts';
import { CalculationError } from '../../shared/faults.ts';
import { logBetaBinomial, logNegativeBinomial } from '../../shared/numbers/densities.ts';

const estimate = (input: CountInput): CountEstimate => countEstimate(countInput.parse(input));

const counted = fc.integer({ min: 0, max: 3_000 });
const level = fc.double({ min: 0.01, max: 0.999, noNaN: true });
const share = fc.double({ min: 0.3, max: 40, noNaN: true });

/** Any count by one of the three methods that take a single number. */
const single = fc.oneof(
  fc.record({
    method: fc.constant('full' as const),
    counted,
    relativeSd: fc.double({ min: 0.001, max: 1, noNaN: true }),
    level,
  }),
  fc.record({
    method: fc.constant('visible' as const),
    counted,
    detection: fc.record({ alpha: share, beta: share }),
    level,
  }),
  fc.record({
    method: fc.constant('sample' as const),
    counted,
    fraction: fc.double({ min: 0.01, max: 1, noNaN: true }),
    clumping: share,
    level,
  }),
);

describe('full, visible and sample counts', () => {
  test('worked example of a full count', () => {
    const count = estimate({ method: 'full', counted: 84 });
    expect(count).toMatchObject({ estimate: 84, level: 0.9, method: 'full' });
    expect(count.standardError).toBeCloseTo(4.2, 12);
    expect(count.lower).toBeCloseTo(84 * Math.exp(-1.6448536 * 0.05), 5);
    expect(count.upper).toBeCloseTo(84 * Math.exp(1.6448536 * 0.05), 5);
  });

  test('worked example of a visible count', () => {
    const count = estimate({ method: 'visible', counted: 23, detection: { alpha: 6, beta: 14 } });
    expect(count.estimate).toBeCloseTo(23 / 0.3, 10);
    expect(count.standardError).toBeCloseTo(28.696, 3);
    expect([count.lower, count.upper]).toEqual([44, 169]);
  });

  test('worked example of a sample', () => {
    const count = estimate({ method: 'sample', counted: 31, fraction: 0.2 });
    expect(count.estimate).toBeCloseTo(155, 10);
    expect(count.standardError).toBeCloseTo(82.348, 3);
    expect([count.lower, count.upper]).toEqual([75, 480]);
  });

  test('the interval of a visible count is the set of N that its exact tests do not reject', () => {
    const { lower, upper } = estimate({ method: 'visible', counted: 9, detection: { alpha: 3, beta: 4 } });
    const atMost = (y: number, n: number): number => {
      let sum = 0;
      for (let j = 0; j <= y; j += 1) sum += Math.exp(logBetaBinomial(j, n, 3, 4));
      return sum;
    };
    for (let n = 9; n < 300; n += 1) {
      const kept = 1 - atMost(8, n) > 0.05 && atMost(9, n) > 0.05;
      expect(kept, `${n}`).toBe(n >= lower && n <= upper);
    }
  });

  test('the interval of a sample is the set of N that its exact tests do not reject', () => {
    const { lower, upper } = estimate({ method: 'sample', counted: 9, fraction: 0.25, clumping: 2.5 });
    const atMost = (y: number, n: number): number => {
      let sum = 0;
      for (let j = 0; j <= y; j += 1) sum += Math.exp(logNegativeBinomial(j, 0.25 * n, 2.5));
      return sum;
    };
    for (let n = 9; n < 400; n += 1) {
      const kept = 1 - atMost(8, n) > 0.05 && atMost(9, n) > 0.05;
      expect(kept, `${n}`).toBe(n >= lower && n <= upper);
    }
  });

  test('whatever was counted: finite, in order, holding its estimate', () => {
    fc.assert(
      fc.property(single, (input) => {
        const count = estimate(input);
        const { lower, upper, standardError } = count;
        for (const value of [count.estimate, lower, upper]) expect(Number.isFinite(value)).toBe(true);
        expect(lower).toBeGreaterThanOrEqual(0);
        expect(lower).toBeLessThanOrEqual(count.estimate);
        expect(count.estimate).toBeLessThanOrEqual(upper);
        expect(standardError === null).toBe(input.counted === 0);
        if (input.method !== 'full') expect(count.estimate).toBeGreaterThanOrEqual(input.counted);
        if (input.method !== 'full') expect(lower).toBeGreaterThanOrEqual(input.counted);
      }),
      { numRuns: 300 },
    );
  });

  test('one animal more never means fewer animals', () => {
    fc.assert(
      fc.property(single, (input) => {
        const [less, more] = [estimate(input), estimate({ ...input, counted: input.counted + 1 })];
        expect(more.estimate).toBeGreaterThan(less.estimate);
        expect(more.lower).toBeGreaterThanOrEqual(less.lower);
        expect(more.upper).toBeGreaterThanOrEqual(less.upper);
      }),
    );
  });

  test('a higher level never makes the interval narrower', () => {
    fc.assert(
      fc.property(single, level, (input, other) => {
        const [low, high] = [Math.min(input.level, other), Math.max(input.level, other)];
        const [narrow, wide] = [estimate({ ...input, level: low }), estimate({ ...input, level: high })];
        expect(wide.lower).toBeLessThanOrEqual(narrow.lower);
        expect(wide.upper).toBeGreaterThanOrEqual(narrow.upper);
      }),
    );
  });

  test('none counted: estimate 0 without a false standard error, and a bound on what may be there', () => {
    const full = estimate({ method: 'full', counted: 0 });
    expect(full).toMatchObject({ estimate: 0, standardError: null, lower: 0 });
    expect(full.upper).toBeGreaterThan(0);
    expect(full.upper).toBeLessThan(1);
    const visible = estimate({ method: 'visible', counted: 0, detection: { alpha: 6, beta: 14 } });
    expect(visible).toMatchObject({ estimate: 0, standardError: null, lower: 0, upper: 10 });
    const sample = estimate({ method: 'sample', counted: 0, fraction: 0.2 });
    // (1 + m / 4)^-4 = 0.05 at the mean m = 4 (0.05^-0.25 - 1) = 4.459; a fifth was searched.
    expect(sample).toMatchObject({ estimate: 0, standardError: null, lower: 0, upper: 22 });
  });

  test('a share that may be nearly 0 gives no upper end; the field is named', () => {
    const vague = { method: 'visible' as const, counted: 3, detection: { alpha: 0.001, beta: 1 } };
    expect(() => estimate(vague)).toThrow(CalculationError);
    const clumped = { method: 'sample' as const, counted: 3, fraction: 0.5, clumping: 0.001 };
    expect(() => estimate(clumped)).toThrow(/any number/);
    // Alpha of 1 or less: the mean of what is possible is infinite, the interval is not.
    const wide = estimate({ method: 'visible', counted: 3, detection: { alpha: 0.5, beta: 1 } });
    expect(wide.upper).toBeLessThan(10_000);
  });

  test('millions are counted too', () => {
    const visible = estimate({ method: 'visible', counted: 100_000, detection: { alpha: 60, beta: 140 } });
    expect(visible.estimate).toBeCloseTo(1e6 / 3, 4);
    // So many animals leave only the doubt about the share: the 5 and 95 % points of Beta(60, 140).
    expect(100_000 / visible.upper).toBeCloseTo(0.248, 2);
    expect(100_000 / visible.lower).toBeCloseTo(0.355, 2);
  });
});
