import { describe, expect, test } from 'vitest';
import {
  logBetaBinomial,
  logBinomial,
  logLogNormalPdf,
  logNegativeBinomial,
  logNormalPdf,
} from '../../shared/numbers/densities.ts';

const total = (upTo: number, log: (y: number) => number): number => {
  let sum = 0;
  for (let y = 0; y <= upTo; y += 1) sum += Math.exp(log(y));
  return sum;
};

const mean = (upTo: number, log: (y: number) => number): number => {
  let sum = 0;
  for (let y = 0; y <= upTo; y += 1) sum += y * Math.exp(log(y));
  return sum;
};

describe('log densities', () => {
  test('worked examples', () => {
    expect(logNormalPdf(0, 0, 1)).toBeCloseTo(-0.9189385332046728, 14);
    expect(logLogNormalPdf(1, 0, 1)).toBeCloseTo(-0.9189385332046728, 14);
    expect(logLogNormalPdf(0, 0, 1)).toBe(Number.NEGATIVE_INFINITY);
    expect(logBinomial(2, 4, 0.5)).toBeCloseTo(Math.log(6 / 16), 13);
    expect(logBetaBinomial(1, 2, 1, 1)).toBeCloseTo(Math.log(1 / 3), 13);
    expect(logNegativeBinomial(0, 4, 4)).toBeCloseTo(4 * Math.log(0.5), 13);
  });

  test('binomial: sums to one, edges p = 0 and p = 1', () => {
    expect(total(37, (y) => logBinomial(y, 37, 0.3))).toBeCloseTo(1, 12);
    expect(logBinomial(0, 5, 0)).toBe(0);
    expect(logBinomial(1, 5, 0)).toBe(Number.NEGATIVE_INFINITY);
    expect(logBinomial(5, 5, 1)).toBe(0);
    expect(logBinomial(6, 5, 0.5)).toBe(Number.NEGATIVE_INFINITY);
  });

  test('beta-binomial: sums to one, mean n alpha / (alpha + beta) (closed form)', () => {
    const log = (y: number) => logBetaBinomial(y, 80, 6, 14);
    expect(total(80, log)).toBeCloseTo(1, 11);
    expect(mean(80, log)).toBeCloseTo(80 * 0.3, 9);
    expect(logBetaBinomial(81, 80, 6, 14)).toBe(Number.NEGATIVE_INFINITY);
  });

  test('beta-binomial takes a real n and rises smoothly between whole ones', () => {
    const [low, between, high] = [60, 60.5, 61].map((n) => logBetaBinomial(23, n, 6, 14)) as [
      number,
      number,
      number,
    ];
    expect(between).toBeGreaterThan(Math.min(low, high));
    expect(between).toBeLessThan(Math.max(low, high));
  });

  test('negative binomial: sums to one, right mean, and the geometric case size = 1 (closed form)', () => {
    const log = (y: number) => logNegativeBinomial(y, 12, 4);
    expect(total(600, log)).toBeCloseTo(1, 11);
    expect(mean(600, log)).toBeCloseTo(12, 9);
    expect(logNegativeBinomial(3, 2, 1)).toBeCloseTo(Math.log((1 / 3) * (2 / 3) ** 3), 13);
  });

  test('negative binomial of mean 0 gives only 0; a huge size is Poisson', () => {
    expect(logNegativeBinomial(0, 0, 4)).toBe(0);
    expect(logNegativeBinomial(1, 0, 4)).toBe(Number.NEGATIVE_INFINITY);
    expect(logNegativeBinomial(3, 2, 1e6)).toBeCloseTo(Math.log((Math.exp(-2) * 8) / 6), 5);
  });
});
