import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { wholeQuantiles } from '../../shared/numbers/whole-posterior.ts';
import { largestWhere, smallestWhere } from '../../shared/numbers/whole-search.ts';

describe('searching whole numbers', () => {
  test('worked examples', () => {
    expect(largestWhere((n) => n * n <= 50, 1)).toBe(7);
    expect(smallestWhere((n) => n * n > 50, 1)).toBe(8);
    expect(smallestWhere((n) => n > 0, 3)).toBe(3);
  });

  test('finds the border wherever it is, in few steps', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000 }), fc.integer({ min: 0, max: 2 ** 50 }), (from, above) => {
        let asked = 0;
        const found = largestWhere((n) => {
          asked += 1;
          return n <= from + above;
        }, from);
        expect(found).toBe(from + above);
        expect(asked).toBeLessThan(120);
      }),
    );
  });

  test('gives up at its limit, and far out is exact to 1e-12', () => {
    expect(largestWhere(() => true, 5)).toBe(Number.POSITIVE_INFINITY);
    expect(smallestWhere(() => false, 5, 1_000)).toBe(Number.POSITIVE_INFINITY);
    expect(largestWhere((n) => n <= 1e200, 0) / 1e200).toBeCloseTo(1, 11);
  });
});

describe('quantiles over whole numbers', () => {
  const geometric = (share: number) => (n: number) => n * Math.log(share);

  test('worked example', () => {
    expect(wholeQuantiles((n) => -n * Math.LN2, 0, 0.2)).toEqual({ lower: 0, upper: 2 });
  });

  test('geometric: P(N <= n) = 1 - s^(n+1) (closed form)', () => {
    for (const share of [0.1, 0.9, 0.999, 0.999999]) {
      const { lower, upper } = wholeQuantiles(geometric(share), 0, 0.05);
      const quantile = (p: number) => Math.ceil(Math.log(1 - p) / Math.log(share) - 1);
      expect(Math.abs(lower - quantile(0.05))).toBeLessThanOrEqual(1e-4 * quantile(0.05) + 1);
      expect(Math.abs(upper - quantile(0.95))).toBeLessThanOrEqual(1e-4 * quantile(0.95) + 1);
    }
  });

  test('a tail like n^-2: P(N > n) = 1/(n+1) for the mass 1/(n(n+1)) from 1 (closed form)', () => {
    const { lower, upper } = wholeQuantiles((n) => -Math.log(n) - Math.log(n + 1), 1, 0.0101);
    expect(lower).toBe(1);
    expect(upper).toBe(99);
  });

  test('a narrow hump far from the start: a normal of mean 1e6, sd 1,000', () => {
    const { lower, upper } = wholeQuantiles((n) => -0.5 * ((n - 1e6) / 1_000) ** 2, 0, 0.05);
    expect(Math.abs(lower - (1e6 - 1.6448536 * 1_000))).toBeLessThan(10);
    expect(Math.abs(upper - (1e6 + 1.6448536 * 1_000))).toBeLessThan(10);
  });
});
