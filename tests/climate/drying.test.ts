import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { believeDrying, chanceDryBy, type Drying, drying, exposureAt } from '../../shared/climate/drying.ts';
import { type DryingInput, dryingInput } from '../../shared/climate/drying-form.ts';
import { saturationKpa, vapour } from '../../shared/climate/vapour.ts';
import { addDays } from '../../shared/days.ts';
import { randomFrom } from '../support/random.ts';
import { prior, simulate } from './simulated-culture.ts';

const asOf = '2026-11-25';
const ask = (given: Partial<DryingInput>): Drying => drying(dryingInput.parse({ asOf, prior, ...given }));
const ago = (days: number) => addDays(asOf, -days);

function refuses(input: object): string {
  const outcome = calculations.drying.run({ asOf, prior, ...input });
  if (outcome.ok) throw new Error('was not refused');
  return outcome.faults.map(({ path, message }) => `${path}: ${message}`).join('\n');
}

/** Dry every so many days and watered, moist the day before, for a while up to so many days ago. */
function steady(everyDays: number, cycles: number, endedAgo: number): DryingInput['checks'] {
  return Array.from({ length: cycles }, (_, i) => ago(endedAgo + (cycles - 1 - i) * everyDays)).flatMap(
    (date) => [
      { date: addDays(date, -1), surface: 'moist' as const, wateredMl: 0 },
      { date, surface: 'dry' as const, wateredMl: 60 },
    ],
  );
}

describe('vapour: the worked examples', () => {
  test('20 °C, and 25 °C at 80 %', () => {
    expect(saturationKpa(20)).toBeCloseTo(2.338, 3);
    expect(vapour({ tempC: 25, humidityPct: 80 }).vpdKpa).toBeCloseTo(0.634, 3);
  });

  test('what no instrument shows is refused', () => {
    expect(calculations.vapour.run({ tempC: 20, humidityPct: 101 })).toEqual({
      ok: false,
      faults: [{ path: 'humidityPct', message: 'must be at most 100' }],
    });
    expect(calculations.vapour.run({ tempC: 20 })).toMatchObject({ ok: false });
  });
});

describe('drying', () => {
  test('the worked example: nothing seen, the belief as it was, and somebody should look', () => {
    const { daysToDry, ...rest } = ask({});
    expect(daysToDry.median).toBeCloseTo(10, 6);
    expect(daysToDry.lower).toBeCloseTo(10 * Math.exp(-1.6448536 * 0.5), 2);
    expect(daysToDry.upper).toBeCloseTo(10 * Math.exp(1.6448536 * 0.5), 1);
    expect(rest).toEqual({ nextCheckOn: asOf, vpdKpa: 1, dueNow: true });
  });

  test('after a watering and nothing else known, water is due when such a one lasts by the belief', () => {
    expect(ask({ checks: [{ date: asOf, surface: 'dry', wateredMl: 50 }] })).toMatchObject({
      nextCheckOn: addDays(asOf, 10),
      dueNow: false,
    });
  });

  test('air twice as dry halves the days', () => {
    const [tempC, at] = [25, (vpd: number) => 100 * (1 - vpd / saturationKpa(25))];
    const days = (vpd: number) =>
      ask({ climate: [{ date: asOf, tempC, humidityPct: at(vpd) }] }).daysToDry.median;
    expect(days(1)).toBeCloseTo(10, 6);
    expect(days(2)).toBeCloseTo(5, 6);
    expect(days(0.5)).toBeCloseTo(20, 6);
  });

  test('a culture that dried in five days, again and again, will do so again', () => {
    const { daysToDry, nextCheckOn } = ask({ checks: steady(5, 8, 2) });
    expect(daysToDry.lower).toBeGreaterThan(3.8);
    expect(daysToDry.median).toBeGreaterThan(4);
    expect(daysToDry.median).toBeLessThan(5);
    expect(daysToDry.upper).toBeLessThan(5.6);
    expect([addDays(asOf, 2), addDays(asOf, 3)]).toContain(nextCheckOn);
  });

  test('the same days in a dry room mean fewer in a moist one, and the other way round', () => {
    const readings = (vpd: number, from: number, to: number) =>
      Array.from({ length: from - to }, (_, i) => ({
        date: ago(from - i),
        tempC: 25,
        humidityPct: 100 * (1 - vpd / saturationKpa(25)),
      }));
    const checks = steady(5, 8, 8);
    const same = ask({ checks, climate: readings(1, 60, 0) }).daysToDry.median;
    const moister = ask({ checks, climate: [...readings(1, 60, 8), ...readings(0.5, 8, -1)] }).daysToDry
      .median;
    expect(moister / same).toBeCloseTo(2, 1);
  });

  test('found dry and not watered: due, since that day', () => {
    const checks = [...(steady(5, 4, 6) ?? []), { date: ago(2), surface: 'dry' as const, wateredMl: 0 }];
    expect(ask({ checks })).toMatchObject({ dueNow: true, nextCheckOn: asOf });
  });

  test('seen moist today, it is not due today, whatever was expected', () => {
    const checks = [...(steady(3, 8, 9) ?? []), { date: asOf, surface: 'moist' as const, wateredMl: 0 }];
    const { dueNow, nextCheckOn } = ask({ checks });
    expect(dueNow).toBe(false);
    expect(nextCheckOn > asOf).toBe(true);
  });

  test('half a watering lasts about half as long', () => {
    const given = (ml: number) => [
      ...(steady(10, 8, 10) ?? []),
      { date: asOf, surface: 'dry' as const, wateredMl: ml },
    ];
    const days = (ml: number) => ask({ checks: given(ml) }).nextCheckOn;
    expect([addDays(asOf, 9), addDays(asOf, 10)]).toContain(days(60));
    expect([addDays(asOf, 4), addDays(asOf, 5)]).toContain(days(30));
  });

  test('one wrong chip does not overturn a long record', () => {
    const checks = steady(10, 12, 3) ?? [];
    const odd = { date: ago(2), surface: 'dry' as const, wateredMl: 60 };
    expect(ask({ checks: [...checks, odd] }).daysToDry.median).toBeGreaterThan(8.5);
  });

  test('wet after moist without water noted: somebody watered, and the days are counted anew', () => {
    const moist = { date: ago(2), surface: 'moist' as const, wateredMl: 0 };
    const wet = { date: asOf, surface: 'wet' as const, wateredMl: 0 };
    const { nextCheckOn } = ask({ checks: [...(steady(6, 6, 5) ?? []), moist, wet] });
    expect([addDays(asOf, 5), addDays(asOf, 6)]).toContain(nextCheckOn);
  });

  test('faults are named where they are', () => {
    const check = (date: string) => ({ date, surface: 'moist', wateredMl: 0 });
    expect(refuses({ checks: [check('2026-11-26')] })).toBe('checks[0].date: is after asOf, 2026-11-25');
    expect(refuses({ checks: [check('2026-11-20'), check('2026-11-19')] })).toBe(
      'checks[1].date: is before the check above it, 2026-11-20',
    );
    expect(refuses({ checks: [check('2001-11-20')] })).toBe(
      'checks[0].date: is more than twenty years before asOf',
    );
    expect(refuses({ checks: [{ ...check('2026-11-20'), surface: 'damp' }] })).toBe(
      'checks[0].surface: must be one of wet, moist, dry',
    );
    expect(refuses({ soil: 1 })).toBe('soil: is not known here');
  });
});

describe('simulated cultures', () => {
  const runs = 500;
  const random = randomFrom(11);
  const cultures = Array.from({ length: runs }, () =>
    simulate(random, 30 + Math.floor(random.uniform() * 60)),
  );

  test('90 % intervals hold the true constant about 90 % of the time, and its ranks are even', () => {
    let held = 0;
    const ranks = Array.from({ length: 5 }, () => 0);
    for (const { whole, checks, climate, asOf: on } of cultures) {
      const belief = believeDrying(checks, climate, on, prior);
      if (exposureAt(belief, 0.05) <= whole && whole <= exposureAt(belief, 0.95)) held += 1;
      const rank = [0.2, 0.4, 0.6, 0.8].filter((p) => exposureAt(belief, p) < whole).length;
      ranks[rank] = (ranks[rank] ?? 0) + 1;
    }
    expect(held / runs).toBeGreaterThan(0.87);
    expect(held / runs).toBeLessThan(0.93);
    // Chi-squared with 4 degrees of freedom passes 13.28 once in a hundred times.
    const even = runs / 5;
    expect(ranks.reduce((sum, n) => sum + (n - even) ** 2 / even, 0)).toBeLessThan(13.28);
  });

  test('of the cultures said to be dry by now with some chance, so many are', () => {
    let expected = 0;
    let variance = 0;
    let found = 0;
    for (const { checks, climate, asOf: on, dryNow } of cultures) {
      const chance = chanceDryBy(believeDrying(checks, climate, on, prior), on) ?? 0;
      expected += chance;
      variance += chance * (1 - chance);
      if (dryNow) found += 1;
    }
    expect(Math.abs(found - expected)).toBeLessThan(3 * Math.sqrt(variance));
  });
});
