import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { betaCdf, betaQuantile, betaQuantileOdds } from '../../shared/numbers/beta.ts';
import { logBinomial } from '../../shared/numbers/densities.ts';

describe('beta distribution', () => {
  test('closed forms: uniform, powers, arcsine, and Beta(2, 3) by hand', () => {
    expect(betaCdf(0.3, 1, 1)).toBeCloseTo(0.3, 14);
    expect(betaCdf(0.3, 5, 1)).toBeCloseTo(0.3 ** 5, 14);
    expect(betaCdf(0.3, 1, 5)).toBeCloseTo(1 - 0.7 ** 5, 14);
    expect(betaCdf(0.3, 0.5, 0.5)).toBeCloseTo((2 / Math.PI) * Math.asin(Math.sqrt(0.3)), 13);
    expect(betaCdf(0.5, 2, 3)).toBeCloseTo(11 / 16, 14);
  });

  test('it is a binomial tail: I_p(k, n - k + 1) = P(at least k of n) (Abramowitz and Stegun 1964, eq. 26.5.24)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 200 }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (a, b, p) => {
          const k = Math.min(a, b);
          const n = Math.max(a, b);
          let tail = 0;
          for (let y = k; y <= n; y += 1) tail += Math.exp(logBinomial(y, n, p));
          expect(Math.abs(betaCdf(p, k, n - k + 1) - tail)).toBeLessThan(1e-11);
        },
      ),
    );
  });

  test('edges', () => {
    expect([betaCdf(0, 2, 3), betaCdf(-1, 2, 3), betaCdf(1, 2, 3)]).toEqual([0, 0, 1]);
    expect([betaQuantile(0, 2, 3), betaQuantile(1, 2, 3)]).toEqual([0, 1]);
    expect(betaQuantile(-0.1, 2, 3)).toBeNaN();
  });

  test('quantile and distribution undo each other', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.double({ min: 0.2, max: 1e5, noNaN: true }),
        fc.double({ min: 0.2, max: 1e5, noNaN: true }),
        (p, a, b) => {
          // Near 1 the double x itself is too coarse to carry p back; the odds are not.
          const odds = betaQuantileOdds(p, a, b);
          const back = odds > 1 ? 1 - betaCdf(1 / (1 + odds), b, a) : betaCdf(odds / (1 + odds), a, b);
          expect(Math.abs(back - p)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  test('a quantile too near 0 for x keeps its odds: Beta(0.01, 1) has p^100', () => {
    expect(betaQuantileOdds(0.05, 0.01, 1) / 0.05 ** 100).toBeCloseTo(1, 9);
    expect(betaQuantile(0.5, 1, 1)).toBeCloseTo(0.5, 13);
  });
});
