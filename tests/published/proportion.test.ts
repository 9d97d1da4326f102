import { describe, expect, test } from 'vitest';
import { betaQuantile } from '../../shared/numbers/beta.ts';
import { expectRow, row, titleOf, toleranceOf } from './rows.ts';
import { tolerances } from './tolerances.ts';

/**
 * The exact binomial interval of Clopper and Pearson (1934) consists of two beta quantiles: a check of the
 * quantile that our sample counts rest on, against published tables.
 */
function exactInterval(id: string): [number, number] {
  const { x, n, conf } = row(id).inputs as { x: number; n: number; conf?: number };
  const tail = (1 - (conf ?? 0.95)) / 2;
  return [x === 0 ? 0 : betaQuantile(tail, x, n - x + 1), x === n ? 1 : betaQuantile(1 - tail, x + 1, n - x)];
}

function expectWithin(id: string, actual: number, wanted: number): void {
  expect(Math.abs(actual - wanted)).toBeLessThanOrEqual(toleranceOf(tolerances[id]?.within) ?? 0);
}

describe('beta quantiles as exact binomial intervals', () => {
  for (const id of ['c01-exact-7-10', 'c04-exact-4-20', 'c05-exact-4-20-90']) {
    test(titleOf(id), () => {
      const interval = exactInterval(id);
      expectRow(id, interval[0], 0);
      expectRow(id, interval[1], 1);
    });
  }

  for (const id of ['c06-wilson-newcombe-81-263', 'c07-wilson-newcombe-0-20']) {
    test(`${titleOf(id)}, its exact interval`, () => {
      const { exact } = row(id).expected as { exact: [number, number] };
      const interval = exactInterval(id);
      expectWithin(id, interval[0], exact[0]);
      expectWithin(id, interval[1], exact[1]);
    });
  }
});
