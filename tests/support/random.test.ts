import { describe, expect, test } from 'vitest';
import { randomFrom } from './random.ts';

function momentsOf(draw: () => number, count = 20_000): { mean: number; variance: number } {
  const draws = Array.from({ length: count }, draw);
  const mean = draws.reduce((sum, x) => sum + x, 0) / count;
  return { mean, variance: draws.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (count - 1) };
}

describe('seeded draws', () => {
  const random = randomFrom(20261125);
  test.each([
    ['uniform', () => random.uniform(), 0.5, 1 / 12],
    ['normal', () => random.normal(), 0, 1],
    ['gamma', () => random.gamma(2.5), 2.5, 2.5],
    ['a small gamma', () => random.gamma(0.4), 0.4, 0.4],
    ['beta', () => random.beta(6, 14), 0.3, (6 * 14) / (400 * 21)],
    ['binomial', () => random.binomial(20, 0.3), 6, 4.2],
    ['poisson', () => random.poisson(7), 7, 7],
  ] as const)('%s has its mean and variance', (_name, draw, mean, variance) => {
    const found = momentsOf(draw);
    expect(Math.abs(found.mean - mean)).toBeLessThan(4 * Math.sqrt(variance / 20_000));
    expect(found.variance / variance).toBeGreaterThan(0.93);
    expect(found.variance / variance).toBeLessThan(1.07);
  });

  test('the same seed draws the same', () => {
    const [one, other] = [randomFrom(7), randomFrom(7)];
    expect([one.uniform(), one.gamma(3)]).toEqual([other.uniform(), other.gamma(3)]);
  });
});
