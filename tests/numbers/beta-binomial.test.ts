import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { betaBinomialCdf } from '../../shared/numbers/beta-binomial.ts';
import { logBetaBinomial } from '../../shared/numbers/densities.ts';

function summed(y: number, n: number, a: number, b: number): number {
  let sum = 0;
  for (let j = 0; j <= y; j += 1) sum += Math.exp(logBetaBinomial(j, n, a, b));
  return sum;
}

describe('beta-binomial distribution', () => {
  test('worked example and edges', () => {
    expect(betaBinomialCdf(0, 2, 1, 1)).toBeCloseTo(1 / 3, 14);
    expect(betaBinomialCdf(-1, 2, 1, 1)).toBe(0);
    expect(betaBinomialCdf(2, 2, 1, 1)).toBe(1);
  });

  test('uniform share: every number that shows is equally likely (closed form)', () => {
    for (const y of [0, 17, 399, 998]) expect(betaBinomialCdf(y, 999, 1, 1)).toBeCloseTo((y + 1) / 1000, 11);
  });

  test('it is the sum of the masses, whatever the shape', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 300 }),
        fc.integer({ min: 0, max: 300 }),
        fc.double({ min: 0.05, max: 60, noNaN: true }),
        fc.double({ min: 0.05, max: 60, noNaN: true }),
        (n, y, a, b) => {
          const seen = Math.min(y, n);
          expect(Math.abs(betaBinomialCdf(seen, n, a, b) - summed(seen, n, a, b))).toBeLessThan(1e-10);
        },
      ),
    );
  });

  test('of billions, the share that shows is all that matters', () => {
    // For n beyond measure P(Y <= x n) is P(p <= x); Beta(1, 3): 1 - (1 - x)^3.
    expect(betaBinomialCdf(1_000, 1e10, 1, 3)).toBeCloseTo(1 - (1 - 1.001e-7) ** 3, 9);
    expect(betaBinomialCdf(500_000, 1e6, 1, 3)).toBeCloseTo(1 - 0.5 ** 3, 5);
  });
});

describe('beta-binomial distribution in strides', () => {
  test('closed forms for millions: Beta(1, 1) and Beta(2, 1)', () => {
    for (const [y, n] of [
      [1e6, 4e6],
      [9_999_999, 1e7],
      [30_000, 1e9],
    ] as const) {
      expect(betaBinomialCdf(y, n, 1, 1) / ((y + 1) / (n + 1))).toBeCloseTo(1, 6);
      const squared = ((y + 1) * (y + 2)) / ((n + 1) * (n + 2));
      expect(betaBinomialCdf(y, n, 2, 1) / squared).toBeCloseTo(1, 6);
    }
  });

  test.each([
    [6, 14],
    [0.4, 3],
    [0.2, 0.3],
    [5, 0.5],
    [3_000, 7_000],
    [1e6, 2e6],
  ])('Beta(%d, %d): the sum of the masses', (a, b) => {
    const n = 90_000;
    for (const y of [20_500, 27_000, 30_050, 45_000]) {
      const away =
        Math.abs(y - (n * a) / (a + b)) / Math.sqrt((n * a * b * (a + b + n)) / ((a + b) ** 2 * (a + b + 1)));
      const within = away < 20 ? 2e-6 : 1e-4;
      expect(Math.abs(betaBinomialCdf(y, n, a, b) - summed(y, n, a, b))).toBeLessThan(within);
    }
  });

  test('far from every hump it is 0 or 1', () => {
    expect(betaBinomialCdf(30_000, 1e9, 1e6, 1e6)).toBe(0);
    expect(betaBinomialCdf(9e8, 1e9, 1e6, 1e6)).toBe(1);
  });
});
