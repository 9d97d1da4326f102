import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CalculationError, faultsOf, inWords } from '../../shared/faults.ts';
import { starterGroup, starterGroupInput } from '../../shared/splits/starter-group.ts';
import { randomFrom } from '../support/random.ts';

const wish = fc.record({
  femaleShare: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
  atLeast: fc.record({ males: fc.nat(6), females: fc.nat(6) }),
});

describe('starter group', () => {
  test('worked example: a dozen, two of each sex', () => {
    const start = { animals: 12, femaleShare: 0.5, atLeast: { males: 2, females: 2 } };
    // 12 of one sex or exactly 11: (1 + 12) ways each, of 2^12.
    expect(starterGroup(start)).toEqual({ probability: expect.closeTo(1 - 26 / 4096, 12) });
  });

  test('the smallest group for an assurance', () => {
    const wanted = { femaleShare: 0.5, atLeast: { males: 2, females: 2 } };
    expect(starterGroup({ ...wanted, assurance: 0.99 })).toEqual({
      animals: 12,
      probability: expect.closeTo(1 - 26 / 4096, 12),
    });
  });

  test('closed forms: none of a sex, unequal shares', () => {
    const start = { animals: 10, femaleShare: 0.8, atLeast: { males: 1, females: 0 } };
    expect(starterGroup(start).probability).toBeCloseTo(1 - 0.8 ** 10, 12);
    expect(starterGroup({ ...start, atLeast: { males: 0, females: 0 } }).probability).toBe(1);
    expect(starterGroup({ ...start, atLeast: { males: 10, females: 0 } }).probability).toBeCloseTo(
      0.2 ** 10,
      15,
    );
  });

  test('parthenogenetic species: females only, no males asked for', () => {
    const start = { femaleShare: 1, atLeast: { males: 0, females: 3 } };
    expect(starterGroup({ ...start, animals: 3 }).probability).toBe(1);
    expect(starterGroup({ ...start, animals: 2 }).probability).toBe(0);
    expect(starterGroup({ ...start, assurance: 0.999 })).toEqual({ animals: 3, probability: 1 });
  });

  test('what no group can give is refused by name of the field', () => {
    const males = { femaleShare: 1, assurance: 0.9, atLeast: { males: 1, females: 1 } };
    expect(() => starterGroup(males)).toThrow(CalculationError);
    expect(() => starterGroup(males)).toThrow(/never the males/);
    const females = { femaleShare: 0, assurance: 0.9, atLeast: { males: 1, females: 1 } };
    expect(() => starterGroup(females)).toThrow(/never the females/);
    const rare = { femaleShare: 1e-6, assurance: 0.99, atLeast: { males: 0, females: 3 } };
    expect(() => starterGroup(rare)).toThrow(/cannot be reached with 10,000 animals/);
    // With a number of animals the answer is simply 0.
    expect(starterGroup({ ...males, assurance: undefined, animals: 50 }).probability).toBe(0);
  });

  test('a larger group is never less safe, and probabilities stay between 0 and 1', () => {
    fc.assert(
      fc.property(wish, fc.integer({ min: 1, max: 400 }), (wanted, animals) => {
        const { probability } = starterGroup({ ...wanted, animals });
        expect(probability).toBeGreaterThanOrEqual(0);
        expect(probability).toBeLessThanOrEqual(1);
        const larger = starterGroup({ ...wanted, animals: animals + 1 }).probability;
        expect(larger).toBeGreaterThanOrEqual(probability - 1e-12);
      }),
    );
  });

  test('the group for an assurance gives it, and one animal fewer does not', () => {
    fc.assert(
      fc.property(wish, fc.double({ min: 0.5, max: 0.999, noNaN: true }), (wanted, assurance) => {
        const { animals, probability } = starterGroup({ ...wanted, assurance });
        expect(probability).toBeGreaterThanOrEqual(assurance);
        if ((animals as number) > 1) {
          const fewer = starterGroup({ ...wanted, animals: (animals as number) - 1 });
          expect(fewer.probability).toBeLessThan(assurance);
        }
      }),
    );
  });

  test('drawing groups agrees', () => {
    const random = randomFrom(42);
    let safe = 0;
    for (let run = 0; run < 4_000; run += 1) {
      const females = random.binomial(9, 0.65);
      if (females >= 2 && 9 - females >= 2) safe += 1;
    }
    const { probability } = starterGroup({
      animals: 9,
      femaleShare: 0.65,
      atLeast: { males: 2, females: 2 },
    });
    const error = Math.sqrt((probability * (1 - probability)) / 4_000);
    expect(Math.abs(safe / 4_000 - probability)).toBeLessThan(4 * error);
  });

  test.each([
    [
      { femaleShare: 0.5, atLeast: { males: 1, females: 1 } },
      'animals: must be given, or assurance in its place, and not both',
    ],
    [
      { animals: 5, assurance: 0.9, femaleShare: 0.5, atLeast: { males: 1, females: 1 } },
      'animals: must be given, or assurance in its place, and not both',
    ],
    [{ animals: 5, femaleShare: 1.2, atLeast: { males: 1, females: 1 } }, 'femaleShare: must be at most 1'],
    [{ animals: 0, femaleShare: 1, atLeast: { males: 1, females: 1 } }, 'animals: must be at least 1'],
    [{ assurance: 1, femaleShare: 1, atLeast: { males: 1, females: 1 } }, 'assurance: must be less than 1'],
    [{ animals: 5, femaleShare: 1, atLeast: { males: 1 } }, 'atLeast.females: is missing'],
  ])('%j is refused', (input, expected) => {
    const parsed = starterGroupInput.safeParse(input, { error: inWords });
    const found = parsed.success ? [] : faultsOf(parsed.error).map((f) => `${f.path}: ${f.message}`);
    expect(found).toEqual([expected]);
  });
});
