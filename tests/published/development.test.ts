import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { addDays } from '../../shared/days.ts';
import type { Development } from '../../shared/development/development.ts';
import { thermalConstant } from '../../shared/development/thermal-constant.ts';
import { starterSpecies } from '../../shared/species/starter-set.ts';
import { expectRow, expectRowList, row, titleOf } from './rows.ts';

type Days = [minimum: number, maximum: number][];

/** The degree-days of each day, through the same door as the command line. */
function ofDays(days: Days, lowerC: number, upperC: number | null, method: string): number[] {
  const startOn = '2026-01-01';
  const readings = days.map(([minC, maxC], i) => ({ date: addDays(startOn, i), minC, maxC }));
  const outcome = calculations.development.run({
    lowerC,
    upperC,
    degreeDays: 1e5,
    readings,
    startOn,
    method,
  });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  const sums = (outcome.result as Development).accumulated.map(({ degreeDays }) => degreeDays);
  return sums.map((sum, i) => sum - (sums[i - 1] ?? 0));
}

describe('degree-days', () => {
  test.each(['g01-zalom-single-sine-dev', 'g07-degday-readme'])('%s, in °F and in °C', (id) => {
    const { days, low, high } = row(id).inputs as { days: Days; low: number; high: number };
    expectRowList(id, ofDays(days, low, high, 'single-sine'));
    const celsius = (f: number) => (f - 32) / 1.8;
    const inC = days.map(([min, max]): [number, number] => [celsius(min), celsius(max)]);
    const degreeDays = ofDays(inC, celsius(low), celsius(high), 'single-sine');
    expectRowList(
      id,
      degreeDays.map((dd) => dd * 1.8),
    );
  });

  const average = 'g08-mcmaster-simple-average';
  test(`${titleOf(average)} (its first method; the second is none of ours)`, () => {
    expectRowList(average, ofDays(row(average).inputs.days as Days, 0, null, 'average'), 'm1');
  });

  const example = 'g09-ucipm-average-example';
  test(titleOf(example), () => {
    const { mean_F, base_F } = row(example).inputs as Record<string, number>;
    const [degreeDays] = ofDays([[mean_F! - 9, mean_F! + 9]], base_F!, null, 'average');
    expectRow(example, degreeDays, 'dd');
  });

  const symmetric = 'g10-symmetric-sine';
  test(titleOf(symmetric), () => {
    const { tmin, tmax, base } = row(symmetric).inputs as Record<string, number>;
    const [degreeDays] = ofDays([[tmin!, tmax!]], base!, null, 'single-sine');
    expectRow(symmetric, degreeDays, 'dd');
    expect(degreeDays).toBeCloseTo(5 / Math.PI, 12);
  });
});

describe('development times', () => {
  const flies = 'h02-dmel-two-point-thermal-constant';
  test(titleOf(flies), () => {
    const points = row(flies).inputs.points as [number, number][];
    const { lowerC, degreeDays } = thermalConstant(points.map(([tempC, days]) => ({ tempC, days })));
    expectRow(flies, lowerC, 'T0');
    expectRow(flies, degreeDays, 'K');
  });

  const springtails = 'h07-folsomia';
  test(titleOf(springtails), () => {
    const expected = row(springtails).expected as Record<string, unknown>;
    const own = starterSpecies.find(({ scientificName }) => scientificName === 'Folsomia candida')?.figures;
    const [fewest, most] = expected.adult_days_20C as [number, number];
    expect(own?.generationDays).toBeGreaterThanOrEqual(fewest);
    expect(own?.generationDays).toBeLessThanOrEqual(most);
    // Above it no egg hatches, so nothing warmer is safe for what is sold or kept.
    expect(own?.safeHighC).toBeLessThanOrEqual(expected.no_hatch_above_C as number);
  });
});
