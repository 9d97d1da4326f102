import { describe, expect, test } from 'vitest';
import { simulate } from '../../../ops/calibration/history.ts';
import { falls, QUANTITIES } from '../../../ops/calibration/ranks.ts';
import { settings } from '../../../ops/calibration/settings.ts';
import { linesOf } from '../../../ops/calibration/verdict.ts';

/**
 * Simulation-based calibration (Talts, Betancourt, Simpson, Vehtari and Gelman 2018) on fewer histories than
 * `npm run calibrate`, over all its settings together. With 144 the share of 90 % intervals that hold has a
 * standard error of 2.5 %: 82 to 98 % is 3.2 of them. Chi-square with 9 degrees of freedom exceeds 27.9 once
 * in 1,000.
 */
const EACH = 24;
const WEEKS = 40;
const BOUNDS = { least: 0.82, most: 0.98, chiSquare: 27.9 };

describe('histories simulated from the model', () => {
  const all = settings.flatMap((setting, s) =>
    Array.from({ length: EACH }, (_, i) => {
      const seed = 7_919 * (s + 1) + i;
      return falls(setting, simulate(setting, seed, WEEKS), seed);
    }),
  );
  for (const { quantity, heldShare, chiSquare, histories } of linesOf(all, BOUNDS)) {
    test(`${quantity}: 90 % intervals hold the truth about that often, and ranks are even`, () => {
      expect(histories).toBe(EACH * settings.length);
      expect(heldShare).toBeGreaterThanOrEqual(BOUNDS.least);
      expect(heldShare).toBeLessThanOrEqual(BOUNDS.most);
      expect(chiSquare).toBeLessThanOrEqual(BOUNDS.chiSquare);
    });
  }

  test('the check has teeth: truths one interval too far up fall outside too often', () => {
    const setting = settings[0]!;
    const wrong = Array.from({ length: 40 }, (_, i) => {
      const history = simulate(setting, 31 * i, WEEKS);
      const { truth } = history;
      const moved = { ...truth, now: truth.now * 1.5, growth: truth.growth * 1.5 };
      return falls(setting, { ...history, truth: moved }, i);
    });
    const lines = linesOf(wrong, BOUNDS);
    expect(lines.filter((line) => !line.good).map((line) => line.quantity)).toContain('number now');
    expect(lines).toHaveLength(QUANTITIES.length);
  });
});
