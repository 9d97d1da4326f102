import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { addDays } from '../../shared/days.ts';
import type { CultureLineage, LineageAnswer } from '../../shared/lines/lineage.ts';
import { type Animal, pedigree } from './pedigree.ts';
import { expectRow, row, titleOf } from './rows.ts';
import { tolerances } from './tolerances.ts';

const FOUNDED = '2020-01-01';
const GENERATION_DAYS = 50;

interface One {
  wild: number;
  sizes?: { date: string; animals: number }[];
  femaleShare?: number;
}

/** One culture after so many generations, through the same door as the command line; Ne = n at equal sexes. */
function cultureAfter(generations: number, { wild, sizes = [], femaleShare = 0.5 }: One): CultureLineage {
  const outcome = calculations.lineage?.run({
    cultures: [{ code: 'A', foundedOn: FOUNDED, wild, sizes }],
    generationDays: GENERATION_DAYS,
    femaleShare,
    neRatio: 1,
    asOf: dayAfter(generations),
  });
  if (!outcome?.ok) throw new Error(JSON.stringify(outcome?.faults));
  return (outcome.result as LineageAnswer).cultures[0]!;
}

const dayAfter = (generations: number) => addDays(FOUNDED, generations * GENERATION_DAYS);

function expectTable(id: string, actual: (i: number, j: number) => number): void {
  const wanted = row(id).expected as number[][];
  const within = tolerances[id]?.within as number;
  for (const [i, figures] of wanted.entries()) {
    for (const [j, figure] of figures.entries()) {
      expect(Math.abs(actual(i, j) - figure), `${id} ${i} ${j}: ${figure}`).toBeLessThanOrEqual(within);
    }
  }
}

describe('single animals, as cultures of one gene copy', () => {
  const twoLines = 'f01-kinship2-ped2';
  test(titleOf(twoLines), () => {
    const animals = row(twoLines).inputs.pedigree as Animal[];
    const found = pedigree(animals);
    expectTable(twoLines, (i, j) => found.kinship(animals[i]![0], animals[j]![0]));
    expect(found.inbreeding('10')).toBeCloseTo(0.0625, 12);
  });

  const additive = 'f02-mrode-2.1-A';
  test(titleOf(additive), () => {
    const animals = row(additive).inputs.pedigree as Animal[];
    const found = pedigree(animals);
    expectTable(additive, (i, j) => 2 * found.kinship(animals[i]![0], animals[j]![0]));
  });

  const relations = 'f03-basic-relationships';
  test(titleOf(relations), () => {
    const founders = ['a', 'b', 'x', 'y', 'v', 'w', 'z'].map((id): Animal => [id, null, null]);
    const found = pedigree([
      ...founders,
      ['c1', 'a', 'b'],
      ['c2', 'a', 'b'],
      ['half', 'a', 'x'],
      ['y1', 'x', 'y'],
      ['y2', 'x', 'y'],
      ['g1', 'c1', 'y1'],
      ['g2', 'c2', 'y2'],
      ['k1', 'c1', 'v'],
      ['k2', 'c2', 'w'],
      ['m1', 'k1', 'z'],
      ['m2', 'k2', 'y'],
    ]);
    const pairs: Record<string, [string, string]> = {
      'parent-offspring': ['a', 'c1'],
      'full sibs': ['c1', 'c2'],
      'half sibs': ['c1', 'half'],
      'uncle-niece': ['c1', 'k2'],
      grandparent: ['a', 'k1'],
      'first cousins': ['k1', 'k2'],
      'second cousins': ['m1', 'm2'],
      'double first cousins': ['g1', 'g2'],
      unrelated: ['a', 'b'],
    };
    for (const [i, name] of (row(relations).inputs.pairs as string[]).entries()) {
      expectRow(relations, found.kinship(...pairs[name]!), i);
    }
  });

  const sibs = 'f04-full-sib-mating';
  test(titleOf(sibs), () => {
    const { generations } = row(sibs).inputs as { generations: number };
    const animals: Animal[] = [
      ['m0', null, null],
      ['f0', null, null],
    ];
    for (let i = 1; i <= generations; i += 1) {
      const parents = [`m${i - 1}`, `f${i - 1}`] as const;
      animals.push([`m${i}`, ...parents], [`f${i}`, ...parents]);
    }
    const found = pedigree(animals);
    for (let i = 1; i <= generations; i += 1) expectRow(sibs, found.inbreeding(`m${i}`), i - 1);
  });

  const selfing = 'f05-selfing';
  test(`${titleOf(selfing)} (as a pedigree, and as a culture of Ne = 1)`, () => {
    const { generations } = row(selfing).inputs as { generations: number };
    const found = pedigree([
      ['0', null, null],
      ...Array.from({ length: generations }, (_, i): Animal => [`${i + 1}`, `${i}`, `${i}`]),
    ]);
    for (let i = 0; i < generations; i += 1) expectRow(selfing, found.inbreeding(`${i}`), i);
    // The founding step is the first generation of selfing.
    for (let i = 1; i < generations; i += 1) {
      expectRow(selfing, cultureAfter(i - 1, { wild: 1 }).inbreeding, i);
    }
  });
});

describe('cultures', () => {
  const expected = 'f06-expected-F';
  test(titleOf(expected), () => {
    const cases = row(expected).inputs.cases as [number, number][];
    cases.forEach(([ne, generations], i) => {
      // Ten million founders lose nothing to speak of (5e-8) in the founding step.
      const culture = { wild: 10_000_000, sizes: [{ date: FOUNDED, animals: ne }] };
      expectRow(expected, cultureAfter(generations, culture).inbreeding, i);
    });
  });

  const varying = 'f07-harmonic-ne';
  test(`${titleOf(varying)} (the harmonic mean is the limit for large sizes)`, () => {
    const sizes = row(varying).inputs.N as number[];
    const large = 1_000;
    const { heterozygosityKept } = cultureAfter(sizes.length, {
      wild: 10_000_000,
      sizes: sizes.map((animals, i) => ({ date: dayAfter(i), animals: animals * large })),
    });
    const founding = 1 - 1 / 20_000_000;
    const perGeneration = (heterozygosityKept / founding) ** (1 / sizes.length);
    expectRow(varying, 1 / (2 * (1 - perGeneration)) / large, 'Ne');
  });

  const sexes = 'f08-sex-ratio-ne';
  test(titleOf(sexes), () => {
    const cases = row(sexes).inputs.cases as [number, number][];
    cases.forEach(([males, females], i) => {
      const wild = males + females;
      const { inbreeding } = cultureAfter(0, { wild, femaleShare: females / wild });
      expectRow(sexes, 1 / (2 * inbreeding), i);
    });
  });

  const rate = 'f09-delta-F';
  test(titleOf(rate), () => {
    (row(rate).inputs.Ne as number[]).forEach((ne, i) => {
      const [before, after] = [cultureAfter(1, { wild: ne }), cultureAfter(2, { wild: ne })];
      expectRow(rate, 1 - after.heterozygosityKept / before.heterozygosityKept, i);
    });
  });

  const pair = 'f10-bottleneck-H';
  test(titleOf(pair), () => {
    const [wild] = row(pair).inputs.N_per_generation as [number];
    expectRow(pair, cultureAfter(0, { wild }).heterozygosityKept, 'retained');
  });
});
