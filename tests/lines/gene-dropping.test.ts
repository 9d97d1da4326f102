import { describe, expect, test } from 'vitest';
import { addDays } from '../../shared/days.ts';
import { lineageInput } from '../../shared/lines/form.ts';
import { kinship } from '../../shared/lines/kinship.ts';
import { randomFrom } from '../support/random.ts';
import { GeneDropping } from './gene-dropping.ts';

const HISTORIES = 4_000;
/** With so many comparisons one falls outside three standard errors by chance; hardly ever outside four and a half. */
const STANDARD_ERRORS = 4.5;

/** The day after so many generations of 90 days. */
const generation = (generations: number) => addDays('2024-01-01', 90 * generations);

interface Story {
  title: string;
  cultures: object[];
  asOf: string;
  /** The same history, told by hand to single genes. Ne = n / 2: n animals stand for n genes. */
  tell(genes: GeneDropping): void;
}

const stories: Story[] = [
  {
    title: 'one culture through a bottleneck',
    asOf: generation(8),
    cultures: [
      {
        code: 'A',
        foundedOn: generation(0),
        wild: 10,
        sizes: [
          { date: generation(3), animals: 20 },
          { date: generation(5), animals: 4 },
          { date: generation(6), animals: 24 },
        ],
      },
    ],
    tell(genes) {
      genes.wild('A', 10);
      genes.breed('A', 10, 3);
      genes.breed('A', 20, 2);
      genes.breed('A', 4, 1);
      genes.breed('A', 24, 2);
    },
  },
  {
    title: 'splits of splits, two of them on one day',
    asOf: generation(6),
    cultures: [
      { code: 'D', foundedOn: generation(4), parents: [{ code: 'C', animals: 5 }] },
      { code: 'C', foundedOn: generation(2), parents: [{ code: 'B', animals: 8 }] },
      { code: 'B', foundedOn: generation(2), parents: [{ code: 'A', animals: 6 }] },
      { code: 'A', foundedOn: generation(0), wild: 12 },
    ],
    tell(genes) {
      genes.wild('A', 12);
      genes.breed('A', 12, 2);
      genes.found('B', [['A', 6]], 6);
      genes.found('C', [['B', 8]], 8);
      genes.breed('A', 12, 4);
      genes.breed('B', 6, 4);
      genes.breed('C', 8, 2);
      genes.found('D', [['C', 5]], 5);
      genes.breed('C', 8, 2);
      genes.breed('D', 5, 2);
    },
  },
  {
    title: 'a culture founded from three, two of them kin',
    asOf: generation(5),
    cultures: [
      { code: 'A', foundedOn: generation(0), wild: 8 },
      { code: 'B', foundedOn: generation(0), wild: 14 },
      { code: 'C', foundedOn: generation(1), parents: [{ code: 'A', animals: 6 }] },
      {
        code: 'D',
        foundedOn: generation(3),
        parents: [
          { code: 'A', animals: 5 },
          { code: 'B', animals: 3 },
          { code: 'C', animals: 4 },
        ],
      },
    ],
    tell(genes) {
      genes.wild('A', 8);
      genes.wild('B', 14);
      genes.breed('A', 8, 1);
      genes.found('C', [['A', 6]], 6);
      genes.breed('A', 8, 2);
      genes.breed('B', 14, 3);
      genes.breed('C', 6, 2);
      genes.found('D', Object.entries({ A: 5, B: 3, C: 4 }), 12);
      genes.breed('D', 12, 2);
      genes.breed('A', 8, 2);
      genes.breed('B', 14, 2);
      genes.breed('C', 6, 2);
    },
  },
  {
    title: 'animals added to and fro',
    asOf: generation(6),
    cultures: [
      { code: 'A', foundedOn: generation(0), wild: 6 },
      {
        code: 'B',
        foundedOn: generation(0),
        wild: 14,
        additions: [{ date: generation(5), code: 'C', animals: 7 }],
      },
      {
        code: 'C',
        foundedOn: generation(1),
        parents: [{ code: 'A', animals: 8 }],
        sizes: [{ date: generation(3), animals: 12 }],
        additions: [
          { date: generation(3), code: 'B', animals: 4 },
          { date: generation(3), code: 'A', animals: 3 },
        ],
      },
    ],
    tell(genes) {
      genes.wild('A', 6);
      genes.wild('B', 14);
      genes.breed('A', 6, 1);
      genes.found('C', [['A', 8]], 8);
      genes.breed('C', 8, 2);
      genes.breed('A', 6, 2);
      genes.breed('B', 14, 3);
      genes.add('C', 12, 'B', 4);
      genes.add('C', 12, 'A', 3);
      genes.breed('A', 6, 2);
      genes.breed('B', 14, 2);
      genes.breed('C', 12, 2);
      genes.add('B', 14, 'C', 7);
      genes.breed('A', 6, 1);
      genes.breed('B', 14, 1);
      genes.breed('C', 12, 1);
    },
  },
];

describe('lineage agrees with genes dropped one by one, within the error of the simulation', () => {
  test.each(stories)('$title', ({ cultures, asOf, tell }) => {
    const found = kinship(
      lineageInput.parse({ cultures, asOf, generationDays: 90, femaleShare: 0.5, neRatio: 0.5 }),
    );
    const n = found.codes.length;
    const pairs = found.codes.flatMap((_, i) => Array.from({ length: n - i }, (_, k) => [i, i + k] as const));
    const sums = pairs.map(() => ({ sum: 0, squares: 0 }));
    const random = randomFrom(20_240_101);
    for (let history = 0; history < HISTORIES; history += 1) {
      const genes = new GeneDropping(random);
      tell(genes);
      pairs.forEach(([i, j], k) => {
        const same = genes.identity(found.codes[i]!, found.codes[j]!);
        sums[k]!.sum += same;
        sums[k]!.squares += same * same;
      });
    }
    pairs.forEach(([i, j], k) => {
      const mean = sums[k]!.sum / HISTORIES;
      const error = Math.sqrt((sums[k]!.squares / HISTORIES - mean * mean) / HISTORIES);
      const what = `${found.codes[i]} with ${found.codes[j]}: ${found.at(i, j)} against ${mean}`;
      // Sharp enough to notice a founding step or a generation too many.
      expect(error, what).toBeLessThan(0.005);
      expect(Math.abs(found.at(i, j) - mean), what).toBeLessThanOrEqual(STANDARD_ERRORS * error);
    });
  });
});
