import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { digammaStep, logGammaStep } from '../../shared/numbers/gamma-steps.ts';
import { logGamma } from '../../shared/numbers/log-gamma.ts';

describe('steps of gamma and digamma', () => {
  test('worked examples', () => {
    expect(logGammaStep(4, 2)).toBeCloseTo(Math.log(20), 13);
    expect(digammaStep(1, 3)).toBeCloseTo(1 + 1 / 2 + 1 / 3, 13);
    expect(logGammaStep(3, 0)).toBe(0);
  });

  test('the step is the difference, where the difference can be taken', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
        fc.double({ min: 0, max: 1e4, noNaN: true }),
        (x, d) => {
          const difference = logGamma(x + d) - logGamma(x);
          const size = Math.abs(logGamma(x + d)) + Math.abs(logGamma(x)) + 1;
          expect(Math.abs(logGammaStep(x, d) - difference)).toBeLessThan(1e-13 * size);
        },
      ),
    );
  });

  test('far out it keeps the digits that a difference would lose: (x)(x+1)(x+2)', () => {
    for (const x of [1e8, 1e12, 1e15]) {
      const exact = Math.log(x) + Math.log(x + 1) + Math.log(x + 2);
      expect(Math.abs(logGammaStep(x, 3) / exact - 1)).toBeLessThan(1e-14);
    }
  });

  test('psi(x + n) - psi(x) is a sum of reciprocals', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1e6, noNaN: true }),
        fc.integer({ min: 0, max: 40 }),
        (x, n) => {
          let sum = 0;
          for (let i = 0; i < n; i += 1) sum += 1 / (x + i);
          expect(Math.abs(digammaStep(x, n) - sum)).toBeLessThanOrEqual(1e-12 * Math.max(sum, 1e-9));
        },
      ),
    );
  });

  test('psi(1) - psi(1/2) = 2 ln 2 (Abramowitz and Stegun 1964, eq. 6.3.2 and 6.3.3)', () => {
    expect(digammaStep(0.5, 0.5)).toBeCloseTo(2 * Math.LN2, 13);
  });
});
