import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CalculationError } from '../../shared/faults.ts';
import { twoSidedT } from '../../shared/numbers/student.ts';
import { boxConductance, type LogReading } from '../../shared/parcels/box-conductance.ts';
import { readLog } from '../../shared/parcels/log-file.ts';
import { parcel } from '../../shared/parcels/parcel.ts';
import { parcelInput } from '../../shared/parcels/parcel-form.ts';
import { randomFrom } from '../support/random.ts';

const water = { massKg: 1, heatCapacityJPerKgK: 4186 };

/** What a box of a conductance would log, by the parcel's own calculation, in air that rises and falls. */
function logOf(
  conductanceWPerK: number,
  { startC = 40, hours = 12, noiseC = 0, seed = 1, outsideC = 20 } = {},
) {
  const random = randomFrom(seed);
  const ambient = Array.from({ length: hours + 1 }, (_, hour) => ({
    hour,
    tempC: outsideC + 1.5 * Math.sin(hour / 3),
  }));
  const { inside } = parcel(
    parcelInput.parse({
      ambient,
      box: { conductanceWPerK },
      contents: water,
      startTempC: startC,
      limits: { lethalLowC: -40, safeLowC: -30, safeHighC: 60, lethalHighC: 70 },
      stepMinutes: 60,
    }),
  );
  return inside.map(({ hour, tempC }, i): LogReading => {
    const noise = random.normal();
    return { hour, insideC: tempC + noiseC * noise, outsideC: ambient[i]?.tempC ?? Number.NaN };
  });
}
const refusal = (readings: LogReading[]) => {
  try {
    boxConductance(readings, water);
  } catch (error) {
    if (error instanceof CalculationError) return error.message;
    throw error;
  }
  return 'was not refused';
};

describe('the conductance of a measured box', () => {
  test('the worked example: one time constant of a kilogram of water', () => {
    const tau = 4186 / 0.25 / 3600;
    const readings = Array.from({ length: 13 }, (_, i) => {
      const hour = (i * tau) / 12;
      return { hour, insideC: 20 + 20 * Math.exp(-hour / tau), outsideC: 20 };
    });
    const fit = boxConductance(readings, water);
    expect(fit.conductanceWPerK).toBeCloseTo(0.25, 8);
    expect(fit.residualC).toBeLessThan(1e-6);
  });

  test('finds the box that the parcel’s own calculation logged, warm or cold, in air that changes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.03, max: 3, noNaN: true }),
        fc.constantFrom(-5, 4, 45),
        (conductance, startC) => {
          const { conductanceWPerK } = boxConductance(logOf(conductance, { startC }), water);
          expect(conductanceWPerK / conductance).toBeCloseTo(1, 5);
        },
      ),
      { numRuns: 40 },
    );
  });

  test('with noisy thermometers the interval of 0.9 holds the truth about nine times in ten', () => {
    let held = 0;
    for (let seed = 1; seed <= 300; seed += 1) {
      const fit = boxConductance(logOf(0.3, { noiseC: 0.3, seed }), water);
      if (fit.lowerWPerK <= 0.3 && fit.upperWPerK >= 0.3) held += 1;
    }
    expect(held).toBeGreaterThan(255);
    expect(held).toBeLessThan(288);
  });

  test('nonsense is refused in words', () => {
    const good = logOf(0.3);
    expect(refusal(good.slice(0, 4))).toBe('hold only 4 lines: at least 6');
    expect(refusal(good.map((one) => ({ ...one, outsideC: one.insideC })))).toMatch(/no difference/);
    expect(refusal(good.map((one) => ({ ...one, insideC: 60 - one.insideC, outsideC: 0 })))).toMatch(
      /gets warmer in cooler air/,
    );
    expect(refusal(good.map((one) => ({ ...one, insideC: one.outsideC, outsideC: one.insideC })))).toMatch(
      /swapped|evenly|end before|no difference|warmer|cooler/,
    );
    expect(refusal([...good].reverse())).toMatch(/do not go forward in time in line 2/);
    expect(refusal(logOf(0.001))).toMatch(/measure for longer/);
    const jumping = good.map((one, i) => ({ ...one, insideC: i % 3 === 1 ? one.insideC + 9 : one.insideC }));
    expect(refusal(jumping)).toMatch(/one box that cools evenly/);
  });

  test('any log ends in an answer or a reason', () => {
    const cell = fc.double({ min: -40, max: 60, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 6, maxLength: 20 }), (rows) => {
        const readings = rows.map(([insideC, outsideC], i) => ({ hour: i, insideC, outsideC }));
        const words = refusal(readings);
        if (words !== 'was not refused') return;
        const { lowerWPerK, conductanceWPerK, upperWPerK } = boxConductance(readings, water);
        expect(Number.isFinite(conductanceWPerK)).toBe(true);
        expect(lowerWPerK).toBeLessThanOrEqual(conductanceWPerK);
        expect(upperWPerK).toBeGreaterThanOrEqual(conductanceWPerK);
      }),
      { numRuns: 100 },
    );
  });

  test('Student’s t: the usual table, e.g. Abramowitz and Stegun, table 26.10 (from memory)', () => {
    expect(twoSidedT(0.95, 10)).toBeCloseTo(2.228, 3);
    expect(twoSidedT(0.9, 5)).toBeCloseTo(2.015, 3);
    expect(twoSidedT(0.95, 1)).toBeCloseTo(12.706, 3);
    expect(twoSidedT(0.9, 20_000)).toBeCloseTo(1.645, 3);
  });
});

describe('a cooling log as text', () => {
  test('the worked example, and hours, clocks past midnight, days with times', () => {
    expect(readLog('minutes,inside,outside\n0,40,20\n30,38.5,20\n', false).readings[1]).toEqual({
      hour: 0.5,
      insideC: 38.5,
      outsideC: 20,
    });
    const hours = (text: string) =>
      readLog(text, false).readings.map(({ hour }) => Math.round(hour * 1e6) / 1e6);
    expect(hours('Hours;Inside;Outside\n1,5;40;20\n3;38,5;20\n')).toEqual([0, 1.5]);
    expect(hours('time\tinside\toutside\n22:30\t40\t20\n00:15\t38\t20\n01:00\t37\t20\n')).toEqual([
      0, 1.75, 2.5,
    ]);
    expect(hours('time,inside,outside\n2026-11-25 23:00,40,20\n2026-11-26T01:00:00,38,20\n')).toEqual([0, 2]);
  });

  test('Fahrenheit where the column says so or the business does', () => {
    expect(readLog('h,inside (F),outside (F)\n0,104,68\n', false).readings[0]?.insideC).toBeCloseTo(40, 9);
    expect(readLog('h,inside °C,outside °C\n0,40,20\n', true).readings[0]?.insideC).toBe(40);
    expect(readLog('h,inside,outside\n0,104,68\n', true).readings[0]?.outsideC).toBeCloseTo(20, 9);
  });

  test('what cannot be read is left out and listed; without its columns it is refused', () => {
    const { readings, faults, leftOut } = readLog('time,inside,outside\n0,40,20\nnoon,39,20\n2,,20\n', false);
    expect(readings).toHaveLength(1);
    expect(leftOut).toBe(2);
    expect(faults).toEqual([
      { line: 3, why: 'the time cannot be read' },
      { line: 4, why: 'a temperature is missing' },
    ]);
    expect(readLog('time,temperature\n0,1\n', false).refusal).toMatch(/called inside/);
    expect(readLog('', false).refusal).toBe('There are no readings in it.');
    expect(readLog('time,inside,outside\nx,y,z\n', false).refusal).toBe('No line of it could be read.');
  });
});
