import { describe, expect, test } from 'vitest';
import { starterGroup } from '../../shared/splits/starter-group.ts';
import { expectRow, row, titleOf } from './rows.ts';

describe('sexes in a starter group', () => {
  for (const id of ['k01-12-2-2', 'k06-impossible']) {
    test(titleOf(id), () => {
      const { n, min_m, min_f } = row(id).inputs as { n: number; min_m: number; min_f: number };
      const start = { animals: n, femaleShare: 0.5, atLeast: { males: min_m, females: min_f } };
      expectRow(id, starterGroup(start).probability, 'P');
    });
  }

  const oneEach = 'k02-one-each';
  test(titleOf(oneEach), () => {
    const cases = row(oneEach).inputs.cases as [number][];
    cases.forEach(([animals], i) => {
      const start = { animals, femaleShare: 0.5, atLeast: { males: 1, females: 1 } };
      expectRow(oneEach, starterGroup(start).probability, i);
    });
  });

  test('common practice, no source: about a dozen animals nearly assures several of both sexes', () => {
    const { probability } = starterGroup({
      animals: 12,
      femaleShare: 0.5,
      atLeast: { males: 2, females: 2 },
    });
    expect(probability).toBeGreaterThan(0.99);
    const smaller = starterGroup({ animals: 6, femaleShare: 0.5, atLeast: { males: 2, females: 2 } });
    expect(smaller.probability).toBeLessThan(0.8);
  });
});
