import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { logBeta, logChoose, logGamma, logSumExp } from '../../shared/numbers/log-gamma.ts';

describe('log-gamma', () => {
  test('factorials: Gamma(n + 1) = n!', () => {
    let logFactorial = 0;
    for (let n = 1; n <= 170; n += 1) {
      logFactorial += Math.log(n);
      expect(Math.abs(logGamma(n + 1) - logFactorial)).toBeLessThan(1e-12 * Math.max(1, logFactorial));
    }
  });

  test('half-integers: Gamma(1/2) = sqrt(pi), Gamma(5/2) = 3 sqrt(pi) / 4 (closed forms)', () => {
    expect(logGamma(0.5)).toBeCloseTo(0.5 * Math.log(Math.PI), 14);
    expect(logGamma(2.5)).toBeCloseTo(Math.log((3 * Math.sqrt(Math.PI)) / 4), 14);
  });

  test('the zeros at 1 and 2, the pole at 0, and no value below', () => {
    expect(logGamma(1)).toBeCloseTo(0, 14);
    expect(logGamma(2)).toBeCloseTo(0, 14);
    expect(logGamma(0)).toBe(Number.POSITIVE_INFINITY);
    expect(logGamma(-1.5)).toBeNaN();
  });

  test('the duplication formula holds for any argument (Abramowitz and Stegun 1964, eq. 6.1.18)', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e7, noNaN: true }), (x) => {
        const left = logGamma(2 * x);
        const right = logGamma(x) + logGamma(x + 0.5) + (2 * x - 1) * Math.LN2 - 0.5 * Math.log(Math.PI);
        expect(Math.abs(left - right)).toBeLessThan(
          1e-13 * Math.max(10, Math.abs(left), x * Math.log(x + 2)),
        );
      }),
    );
  });

  test('worked examples: log beta, log choose, log of a sum', () => {
    expect(logGamma(5)).toBeCloseTo(3.1780538303479458, 13);
    expect(logBeta(2, 3)).toBeCloseTo(-2.4849066497880004, 13);
    expect(logChoose(5, 2)).toBeCloseTo(Math.log(10), 13);
    expect(logChoose(5, 6)).toBe(Number.NEGATIVE_INFINITY);
    expect(logChoose(5, -1)).toBe(Number.NEGATIVE_INFINITY);
    expect(logSumExp([Math.log(2), Math.log(3)])).toBeCloseTo(Math.log(5), 13);
    expect(logSumExp([-2000, -2000])).toBeCloseTo(-2000 + Math.LN2, 10);
    expect(logSumExp([])).toBe(Number.NEGATIVE_INFINITY);
  });
});
