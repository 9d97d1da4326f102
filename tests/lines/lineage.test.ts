import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addDays } from '../../shared/days.ts';
import { effectiveSize, keptOver } from '../../shared/lines/effective-size.ts';
import { type LineageInput, lineageInput } from '../../shared/lines/form.ts';
import { foundingOrder } from '../../shared/lines/founding-order.ts';
import { kinship } from '../../shared/lines/kinship.ts';
import { cultureLineage, type LineageAnswer, lineage, meanKinship } from '../../shared/lines/lineage.ts';
import { someLineage } from './stories.ts';

type Cultures = LineageInput['cultures'];

/** Ne = n / 2, so that a founding or a generation of n animals leaves (1 - 1/n). */
const breeding = { generationDays: 90, femaleShare: 0.5, neRatio: 0.5 };
const START = '2026-01-01';
const generation = (generations: number) => addDays(START, 90 * generations);

function ask(cultures: Cultures, asOf: string, other: Partial<LineageInput> = {}): LineageAnswer {
  return lineage(lineageInput.parse({ cultures, ...breeding, asOf, ...other }));
}

const kept = (answer: LineageAnswer, code: string): number =>
  answer.cultures.find((culture) => culture.code === code)!.heterozygosityKept;

describe('lineage', () => {
  test('worked example: a wild culture and a split from it', () => {
    const answer = ask(
      [
        { code: 'A', foundedOn: '2026-01-01', wild: 10 },
        { code: 'B', foundedOn: '2026-04-01', parents: [{ code: 'A', animals: 20 }] },
      ],
      '2026-04-01',
    );
    expect(answer.codes).toEqual(['A', 'B']);
    expect(answer.kinship[0]).toEqual([expect.closeTo(0.19, 14), expect.closeTo(0.19, 14)]);
    expect(answer.kinship[1]).toEqual([expect.closeTo(0.19, 14), expect.closeTo(0.2305, 14)]);
    expect(answer.cultures[1]).toEqual({
      code: 'B',
      inbreeding: expect.closeTo(0.2305, 14),
      heterozygosityKept: expect.closeTo(0.7695, 14),
      generations: 1,
      meanKinship: expect.closeTo((0.19 + 0.2305) / 2, 14),
      founderShares: { A: 1 },
    });
  });

  test('effective size: the sexes, the ratio, and never below a single gene copy', () => {
    expect(effectiveSize(10, { femaleShare: 0.9, neRatio: 1 })).toBeCloseTo(3.6, 12);
    expect(effectiveSize(10, { femaleShare: 0.5, neRatio: 0.3 })).toBeCloseTo(3, 12);
    for (const femaleShare of [0, 1]) expect(effectiveSize(1_000, { femaleShare, neRatio: 1 })).toBe(0.5);
    expect(effectiveSize(0, { femaleShare: 0.5, neRatio: 1 })).toBe(0.5);
    expect(keptOver(2, 1)).toBe(0.75);
    expect(keptOver(0.5, 0)).toBe(1);
  });

  test('females only: one clone from the founding on', () => {
    const [culture] = ask([{ code: 'A', foundedOn: START, wild: 500 }], generation(3), {
      femaleShare: 1,
    }).cultures;
    expect(culture).toMatchObject({ inbreeding: 1, heterozygosityKept: 0, generations: 3 });
  });

  test('sizes: the last known one holds from its day on, in whatever order they are given', () => {
    const sizes = [
      { date: generation(3), animals: 40 },
      { date: generation(1), animals: 4.5 },
    ];
    const answer = ask([{ code: 'A', foundedOn: START, wild: 10, sizes }], generation(5));
    expect(kept(answer, 'A')).toBeCloseTo(0.9 * 0.9 * (1 - 1 / 4.5) ** 2 * (1 - 1 / 40) ** 2, 14);
    expect(answer.cultures[0]?.generations).toBeCloseTo(5, 14);
  });

  test('a size given for the founding day is the size afterwards, not the founding step', () => {
    const sizes = [{ date: START, animals: 50 }];
    expect(kept(ask([{ code: 'A', foundedOn: START, wild: 10, sizes }], generation(2)), 'A')).toBeCloseTo(
      0.9 * (1 - 1 / 50) ** 2,
      14,
    );
  });

  test('a founding takes the parents as they stand on that day', () => {
    const answer = ask(
      [
        { code: 'A', foundedOn: START, wild: 10 },
        { code: 'B', foundedOn: START, wild: 20 },
        {
          code: 'C',
          foundedOn: generation(1),
          parents: [
            { code: 'A', animals: 6 },
            { code: 'B', animals: 2 },
          ],
        },
      ],
      generation(4),
    );
    const [a, b] = [1 - 0.9 ** 2, 1 - 0.95 ** 2];
    expect(answer.kinship[2]![0]).toBeCloseTo(0.75 * a, 14);
    expect(answer.kinship[1]![2]).toBeCloseTo(0.25 * b, 14);
    const drawn = 0.75 ** 2 * a + 0.25 ** 2 * b;
    expect(kept(answer, 'C')).toBeCloseTo((1 - drawn) * (1 - 1 / 8) ** 4, 14);
    expect(answer.cultures[2]?.founderShares).toEqual({ A: 0.75, B: 0.25 });
    expect(answer.cultures[2]?.generations).toBeCloseTo(4, 14);
  });

  test('a parent named twice counts with both numbers', () => {
    const A = { code: 'A', foundedOn: START, wild: 10 };
    const from = (...numbers: number[]) => {
      const parents = numbers.map((animals) => ({ code: 'A', animals }));
      return ask([A, { code: 'B', foundedOn: generation(1), parents }], generation(2)).kinship;
    };
    for (const [i, row] of from(3, 5).entries()) {
      for (const [j, f] of row.entries()) expect(f).toBeCloseTo(from(8)[i]![j]!, 14);
    }
  });

  test('generations are the mean over founders by their shares', () => {
    const { cultures } = ask(
      [
        { code: 'A', foundedOn: START, wild: 10 },
        { code: 'B', foundedOn: generation(4), wild: 10 },
        {
          code: 'C',
          foundedOn: generation(4),
          parents: [
            { code: 'A', animals: 3 },
            { code: 'B', animals: 1 },
          ],
        },
      ],
      generation(5),
    );
    expect(cultures[2]?.generations).toBeCloseTo(0.75 * 4 + 1, 14);
  });
});

describe('additions', () => {
  const A = { code: 'A', foundedOn: START, wild: 10 };
  const B = { code: 'B', foundedOn: START, wild: 20 };

  test('a mixture by animals with no founding step; the last known size stays', () => {
    const additions = [{ date: generation(2), code: 'B', animals: 5 }];
    const answer = ask([{ ...A, additions }, B], generation(3));
    const [a, b] = [1 - 0.9 ** 3, 1 - 0.95 ** 3];
    const mixed = (2 / 3) ** 2 * a + (1 / 3) ** 2 * b;
    expect(kept(answer, 'A')).toBeCloseTo((1 - mixed) * 0.9, 14);
    expect(answer.kinship[0]![1]).toBeCloseTo((1 / 3) * b, 14);
    expect(answer.cultures[0]?.founderShares).toEqual({
      A: expect.closeTo(2 / 3, 14),
      B: expect.closeTo(1 / 3, 14),
    });
  });

  test('on one day: sizes first, then foundings, then additions as given', () => {
    const day = generation(1);
    const answer = ask(
      [
        {
          ...A,
          sizes: [{ date: day, animals: 30 }],
          additions: [
            { date: day, code: 'B', animals: 10 },
            { date: day, code: 'C', animals: 30 },
          ],
        },
        B,
        { code: 'C', foundedOn: day, parents: [{ code: 'A', animals: 10 }] },
      ],
      day,
    );
    const [a, b] = [1 - 0.9 ** 2, 1 - 0.95 ** 2];
    const c = 1 - (1 - a) * 0.9;
    const first = { a: 0.75 ** 2 * a + 0.25 ** 2 * b, c: 0.75 * a };
    expect(answer.kinship[2]![2]).toBeCloseTo(c, 14);
    expect(answer.kinship[0]![0]).toBeCloseTo(first.a / 4 + c / 4 + first.c / 2, 14);
    expect(answer.kinship[0]![2]).toBeCloseTo(first.c / 2 + c / 2, 14);
  });

  test('a culture that had died out becomes what was added', () => {
    const died = { ...A, sizes: [{ date: generation(1), animals: 0 }] };
    const additions = [{ date: generation(2), code: 'B', animals: 8 }];
    expect(kept(ask([died, B], generation(2)), 'A')).toBe(0);
    const answer = ask([{ ...died, additions }, B], generation(3));
    expect(kept(answer, 'A')).toBeCloseTo(0.95 ** 3 * (1 - 1 / 8), 14);
    expect(answer.cultures[0]?.founderShares).toEqual({ B: 1 });
  });
});

describe('any lineage', () => {
  test('probabilities, symmetry, shares that add up, and a table that agrees with its rows', () => {
    fc.assert(
      fc.property(someLineage, (input) => {
        const parsed = lineageInput.parse(input);
        const answer = lineage(parsed);
        const found = kinship(parsed);
        for (const [i, culture] of answer.cultures.entries()) {
          const row = answer.kinship[i]!;
          for (const [j, f] of row.entries()) {
            expect(f).toBeGreaterThanOrEqual(0);
            expect(f).toBeLessThanOrEqual(1);
            expect(answer.kinship[j]![i]).toBe(f);
            expect(found.at(i, j)).toBe(f);
          }
          const shares = Object.values(culture.founderShares);
          expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10);
          for (const code of Object.keys(culture.founderShares)) {
            expect(input.cultures.find((given) => given.code === code)?.wild).toBeGreaterThan(0);
          }
          expect(culture.inbreeding).toBe(row[i]);
          expect(culture.meanKinship).toBeCloseTo(row.reduce((sum, f) => sum + f, 0) / row.length, 12);
          expect(cultureLineage(found, i)).toEqual(culture);
        }
      }),
    );
  });

  test('the order of the cultures says nothing', () => {
    fc.assert(
      fc.property(someLineage, (input) => {
        const there = kinship(lineageInput.parse(input));
        const back = kinship(lineageInput.parse({ ...input, cultures: [...input.cultures].reverse() }));
        const last = input.cultures.length - 1;
        for (let i = 0; i <= last; i += 1) {
          for (let j = 0; j <= last; j += 1) {
            expect(back.at(last - i, last - j)).toBeCloseTo(there.at(i, j), 12);
          }
        }
      }),
    );
  });

  test('what passes only inside a culture leaves its kinship with others as it was', () => {
    fc.assert(
      fc.property(someLineage, (input) => {
        const later = { ...input, asOf: addDays(input.asOf, 300) };
        const [now, then] = [kinship(lineageInput.parse(input)), kinship(lineageInput.parse(later))];
        for (let i = 0; i < now.codes.length; i += 1) {
          for (let j = 0; j < now.codes.length; j += 1) {
            if (i !== j) expect(then.at(i, j)).toBe(now.at(i, j));
            else expect(then.at(i, i)).toBeGreaterThanOrEqual(now.at(i, i));
          }
        }
      }),
    );
  });

  test('mean kinship with some of the others', () => {
    const founded = { foundedOn: START, wild: 10 };
    const cultures = ['A', 'B', 'C'].map((code) => ({ code, ...founded }));
    const found = kinship(lineageInput.parse({ cultures, ...breeding, asOf: START }));
    expect(meanKinship(found, 0)).toBeCloseTo(0.1 / 3, 14);
    expect(meanKinship(found, 0, [0, 1])).toBeCloseTo(0.05, 14);
    expect(meanKinship(found, 0, [1, 2])).toBe(0);
    expect(meanKinship(found, 0, [])).toBe(0);
    expect([found.placeOf('C'), found.placeOf('D')]).toEqual([2, undefined]);
  });

  test('the order of founding: by day, parents before children on one day', () => {
    const { cultures } = lineageInput.parse({
      ...breeding,
      asOf: START,
      cultures: [
        { code: 'C', foundedOn: START, parents: [{ code: 'B', animals: 1 }] },
        { code: 'B', foundedOn: START, parents: [{ code: 'A', animals: 1 }] },
        { code: 'W', foundedOn: '2025-12-31', wild: 1 },
        { code: 'A', foundedOn: START, wild: 1 },
      ],
    });
    expect(foundingOrder(cultures)).toEqual([2, 3, 1, 0]);
  });
});
