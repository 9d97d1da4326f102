import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { addDays } from '../../shared/days.ts';
import { singleSine } from '../../shared/development/degree-days.ts';
import {
  type Development,
  type DevelopmentInput,
  development,
  developmentInput,
} from '../../shared/development/development.ts';
import { thermalConstant } from '../../shared/development/thermal-constant.ts';
import { CalculationError } from '../../shared/faults.ts';

const startOn = '2026-06-01';
const warm = (days: number, minC = 15, maxC = 25) =>
  Array.from({ length: days }, (_, i) => ({ date: addDays(startOn, i), minC, maxC }));
const ask = (given: Partial<DevelopmentInput>): Development =>
  development(developmentInput.parse({ lowerC: 10, degreeDays: 20, startOn, ...given }));

function refuses(input: object): string {
  const outcome = calculations.development.run({ lowerC: 10, degreeDays: 20, startOn, ...input });
  if (outcome.ok) throw new Error('was not refused');
  return outcome.faults.map(({ path, message }) => `${path}: ${message}`).join('\n');
}

describe('development', () => {
  test('the worked example', () => {
    expect(ask({ method: 'average', readings: warm(2) })).toEqual({
      accumulated: [
        { date: '2026-06-01', degreeDays: 10 },
        { date: '2026-06-02', degreeDays: 20 },
      ],
      completesOn: '2026-06-02',
    });
  });

  test('not complete while the readings last; warmth before the start does not count', () => {
    expect(ask({ degreeDays: 40, readings: warm(3) }).completesOn).toBeNull();
    const early = ask({ startOn: '2026-06-02', readings: warm(3) });
    expect(early.accumulated.map(({ date }) => date)).toEqual(['2026-06-02', '2026-06-03']);
    expect(ask({})).toEqual({ accumulated: [], completesOn: null });
  });

  test('the sine gives warm hours on a day whose mean is below the threshold; the average misses them', () => {
    const [cold] = [warm(1, 2, 16)];
    expect(ask({ readings: cold, method: 'average' }).accumulated[0]?.degreeDays).toBe(0);
    expect(ask({ readings: cold }).accumulated[0]?.degreeDays).toBeGreaterThan(0.5);
  });

  test('faults are named where they are', () => {
    expect(refuses({ upperC: 9 })).toBe('upperC: must be above lowerC, 10');
    expect(refuses({ readings: [{ date: startOn, minC: 9, maxC: 8 }] })).toBe(
      'readings[0].maxC: must not be below minC',
    );
    expect(refuses({ startOn: '2026-05-30', readings: warm(2) })).toBe(
      'readings[0].date: is after startOn, 2026-05-30: the warmth of the days between is not known',
    );
    const [first, , third] = warm(3);
    expect(refuses({ readings: [first, third] })).toBe(
      'readings[1].date: must be the day after the one above it, 2026-06-01',
    );
  });
});

const temperature = fc.double({ min: -10, max: 45, noNaN: true });
const dayOf = fc.tuple(temperature, fc.double({ min: 0, max: 25, noNaN: true }));

describe('the single sine', () => {
  test('is the area under the sine, as a sum over small steps finds it', () => {
    fc.assert(
      fc.property(
        dayOf,
        temperature,
        fc.double({ min: 1, max: 20, noNaN: true }),
        ([minC, range], lowerC, gap) => {
          const steps = 4000;
          let sum = 0;
          for (let i = 0; i < steps; i += 1) {
            const tempC = minC + (range / 2) * (1 + Math.sin((2 * Math.PI * (i + 0.5)) / steps));
            sum += Math.min(Math.max(tempC - lowerC, 0), gap) / steps;
          }
          expect(singleSine(minC, minC + range, { lowerC, upperC: lowerC + gap })).toBeCloseTo(sum, 3);
        },
      ),
      { numRuns: 60 },
    );
  });

  test('warmer is never less, and a higher threshold never more', () => {
    fc.assert(
      fc.property(
        dayOf,
        temperature,
        fc.double({ min: 0, max: 5, noNaN: true }),
        ([minC, range], lowerC, more) => {
          const of = (min: number, low: number) =>
            singleSine(min, min + range, { lowerC: low, upperC: null });
          expect(of(minC + more, lowerC)).toBeGreaterThanOrEqual(of(minC, lowerC) - 1e-9);
          expect(of(minC, lowerC + more)).toBeLessThanOrEqual(of(minC, lowerC) + 1e-9);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('thermal constant', () => {
  test('the worked example, and back again', () => {
    const { lowerC, degreeDays } = thermalConstant([
      { tempC: 18, days: 19 },
      { tempC: 25, days: 8.5 },
    ]);
    expect(lowerC).toBeCloseTo(12.333, 3);
    expect(degreeDays).toBeCloseTo(107.667, 3);
    expect(degreeDays / (18 - lowerC)).toBeCloseTo(19, 9);
  });

  test('one temperature, or times that do not shorten, say nothing', () => {
    const times = (...days: number[]) => days.map((of, i) => ({ tempC: 20 + i, days: of }));
    expect(() => thermalConstant(times(10))).toThrow(CalculationError);
    expect(() => thermalConstant(times(10, 12))).toThrow(/do not shorten/);
  });
});
