import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normalCdf, normalQuantile, twoSidedZ } from '../../shared/numbers/normal.ts';

describe('normal distribution', () => {
  // Abramowitz and Stegun (1964) table 26.1 (P(x), 15 decimals).
  test.each([
    [0, 0.5],
    [1, 0.841344746068543],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
  ])('P(Z <= %d) as tabulated', (z, p) => {
    expect(Math.abs(normalCdf(z) - p)).toBeLessThan(1e-14);
    expect(Math.abs(normalCdf(-z) - (1 - p))).toBeLessThan(1e-14);
  });

  test('far tails keep their relative precision', () => {
    // 1 - P(5) = 2.8665157187919e-7, 1 - P(10) = 7.6198530241605e-24 (Abramowitz and Stegun 1964, tables 26.1 and 26.2).
    expect(normalCdf(-5) / 2.8665157187919e-7).toBeCloseTo(1, 11);
    expect(normalCdf(-10) / 7.6198530241605e-24).toBeCloseTo(1, 11);
    expect(normalCdf(-40)).toBe(0);
    expect(normalCdf(40)).toBe(1);
  });

  // Abramowitz and Stegun (1964) table 26.5 and the usual multipliers of statistics books.
  test.each([
    [0.5, 0],
    [0.95, 1.6448536269514722],
    [0.975, 1.959963984540054],
    [0.995, 2.5758293035489004],
    [0.001, -3.0902323061678132],
  ])('quantile of %d', (p, z) => {
    expect(Math.abs(normalQuantile(p) - z)).toBeLessThan(1e-13);
  });

  test('quantile and distribution undo each other', () => {
    fc.assert(
      fc.property(fc.double({ min: -37, max: 5, noNaN: true }), (z) => {
        expect(Math.abs(normalQuantile(normalCdf(z)) - z)).toBeLessThan(1e-9);
      }),
    );
  });

  test('edges', () => {
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(1.1)).toBeNaN();
    expect(twoSidedZ(0.9)).toBeCloseTo(1.6448536269514722, 13);
  });
});
