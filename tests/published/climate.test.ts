import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { saturationKpa, type Vapour } from '../../shared/climate/vapour.ts';
import { expectRow, expectRowList, row, titleOf } from './rows.ts';

/** Through the same door as the command line. */
function ask(tempC: number, humidityPct: number): Vapour {
  const outcome = calculations.vapour.run({ tempC, humidityPct });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.result as Vapour;
}

const saturation = (tempC: number) => ask(tempC, 50).saturationKpa;
/** What air holds: what it could hold less what it lacks. */
const actual = (tempC: number, humidityPct: number) => saturation(tempC) - ask(tempC, humidityPct).vpdKpa;

type Day = { tmin: number; tmax: number; rhmax: number; rhmin: number };

describe('vapour pressure', () => {
  const example3 = 'i01-fao-ex3';
  test(titleOf(example3), () => {
    const { tmin, tmax } = row(example3).inputs as Day;
    expectRow(example3, saturation(tmin), 'es_min');
    expectRow(example3, saturation(tmax), 'es_max');
    expectRow(example3, (saturation(tmin) + saturation(tmax)) / 2, 'es_mean');
  });

  const table = 'i02-fao-table-2.3';
  test(titleOf(table), () => {
    expectRowList(table, (row(table).inputs.T as number[]).map(saturation));
  });

  const example5 = 'i03-fao-ex5-ea';
  test(titleOf(example5), () => {
    const { tmin, tmax, rhmax, rhmin } = row(example5).inputs as Day;
    expectRow(example5, saturation(tmin), 'es_min');
    expectRow(example5, saturation(tmax), 'es_max');
    expectRow(example5, (actual(tmin, rhmax) + actual(tmax, rhmin)) / 2, 'ea');
  });

  const example6 = 'i04-fao-ex5-vpd';
  test(titleOf(example6), () => {
    const { tmin, tmax, rhmax, rhmin } = row(example6).inputs as Day;
    expectRow(example6, (ask(tmin, rhmax).vpdKpa + ask(tmax, rhmin).vpdKpa) / 2, 'vpd');
  });

  const slope = 'i05-fao-delta';
  test(`${titleOf(slope)} (the slope of our curve)`, () => {
    const at = row(slope).inputs.T as number;
    expectRow(slope, (saturationKpa(at + 0.01) - saturationKpa(at - 0.01)) / 0.02, 'delta');
  });

  const mean = 'i06-rh-mean-ea';
  test(titleOf(mean), () => {
    const { tmin, tmax } = row(example5).inputs as Day;
    const rhmean = row(mean).inputs.rhmean as number;
    expectRow(mean, (actual(tmin, rhmean) + actual(tmax, rhmean)) / 2, 'ea');
  });

  const simple = 'i07-vpd-simple';
  test(titleOf(simple), () => {
    const { T, RH } = row(simple).inputs as { T: number; RH: number[] };
    expectRowList(
      simple,
      RH.map((humidity) => ask(T, humidity).vpdKpa),
    );
    expect(ask(T, 100).vpdKpa).toBe(0);
  });
});
