import { describe, expect, it } from 'vitest';
import { needWords, safeStartAnimals, startObjection } from '../../shared/splits/safe-start.ts';

const pairs = { femaleShare: 0.5, startMales: 2, startFemales: 2 };
const femalesOnly = { femaleShare: 1, startMales: 0, startFemales: 1 };

describe('a safe start', () => {
  it('of two of each sex takes nine: 1 - 2 x (1 + n) / 2^n first passes 95 % there', () => {
    const chance = (n: number) => 1 - (2 * (1 + n)) / 2 ** n;
    expect([chance(8) < 0.95, chance(9) >= 0.95]).toEqual([true, true]);
    expect(safeStartAnimals(pairs)).toBe(9);
    expect(startObjection(9, pairs, 'tick')).toBeNull();
    expect(startObjection(8, pairs, 'tick')?.text).toContain('is 92\u00a0%');
  });

  it('of about a dozen is nearly sure (common practice, no source)', () => {
    expect(startObjection(12, pairs, 'tick')).toBeNull();
  });

  it('of females alone is one animal, and none where males are wanted of them', () => {
    expect(safeStartAnimals(femalesOnly)).toBe(1);
    expect(startObjection(1, femalesOnly, 'tick')).toBeNull();
    expect(safeStartAnimals({ ...femalesOnly, startMales: 1 })).toBeNull();
    expect(startObjection(50, { ...femalesOnly, startMales: 1 }, 'tick')?.text).toContain('is 0\u00a0%.');
  });

  it('is said in words', () => {
    expect(needWords(pairs)).toBe('at least 2 males and 2 females');
    expect(needWords(femalesOnly)).toBe('at least 1 female');
    expect(needWords({ startMales: 0, startFemales: 0 })).toBe('at least one animal');
    expect(startObjection(1, pairs, 'tick')?.text).toMatch(/^1 animal is not a safe start/);
  });
});
