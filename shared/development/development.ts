import { z } from 'zod';
import { addDays, type Day, day } from '../days.ts';
import { simpleAverage, singleSine } from './degree-days.ts';

/** Wide enough for degrees Fahrenheit: the arithmetic is the same in any degree. */
const temperature = z.number().min(-100).max(200);

const DEVELOPMENT_METHODS = ['single-sine', 'average'] as const;

const reading = z
  .strictObject({ date: day, minC: temperature, maxC: temperature })
  .refine(({ minC, maxC }) => minC <= maxC, { path: ['maxC'], error: 'must not be below minC' });

/** Warmth by day, and how much of it a stage takes. */
export const developmentInput = z
  .strictObject({
    lowerC: temperature,
    upperC: temperature.nullable().default(null),
    degreeDays: z.number().gt(0).max(100_000),
    readings: z.array(reading).max(20_000).default([]),
    startOn: day,
    method: z.enum(DEVELOPMENT_METHODS).default('single-sine'),
  })
  .superRefine(({ lowerC, upperC, readings, startOn }, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    if (upperC !== null && upperC <= lowerC) fault(['upperC'], `must be above lowerC, ${lowerC}`);
    const first = readings[0];
    if (first && first.date > startOn)
      fault(
        ['readings', 0, 'date'],
        `is after startOn, ${startOn}: the warmth of the days between is not known`,
      );
    for (const [i, { date }] of readings.entries()) {
      const before = readings[i - 1];
      if (before && addDays(before.date, 1) !== date)
        fault(['readings', i, 'date'], `must be the day after the one above it, ${before.date}`);
    }
  });

export type DevelopmentInput = z.input<typeof developmentInput>;
export type DevelopmentQuestion = z.output<typeof developmentInput>;
export type TemperatureDay = DevelopmentQuestion['readings'][number];

export interface Development {
  accumulated: { date: Day; degreeDays: number }[];
  /** The first day at whose end the warmth is reached; null when the readings end before. */
  completesOn: Day | null;
}

/** Sums of decimals miss a whole number by their last digits. */
const CLOSE = 1e-9;

/**
 * When a stage (egg to hatch, hatch to adult) is complete: degree-days from `startOn` on, that day counted, until they
 * reach what the stage takes.
 *
 * Units: degrees Celsius, degree-days. `upperC` null: no upper threshold. Method `single-sine` (one sine per civil day;
 * Baskerville and Emin 1969) or `average` (the day's mean). Readings before `startOn` are left aside; after it no day
 * may be missing.
 *
 * Not near the temperatures that harm: development is taken as linear in temperature between the thresholds.
 *
 * Errors: thresholds the wrong way round; a first reading after `startOn`; days missing or out of order.
 *
 * @example development({ lowerC: 10, upperC: null, degreeDays: 20, startOn: '2026-06-01', method: 'average',
 *   readings: [{ date: '2026-06-01', minC: 15, maxC: 25 }, { date: '2026-06-02', minC: 15, maxC: 25 }] })
 * // { accumulated: [10, 20], completesOn: '2026-06-02' }
 */
export function development(question: DevelopmentQuestion): Development {
  const { readings, startOn, degreeDays, method, lowerC, upperC } = question;
  const ofDay = method === 'average' ? simpleAverage : singleSine;
  let sum = 0;
  let completesOn: Day | null = null;
  const accumulated: Development['accumulated'] = [];
  for (const { date, minC, maxC } of readings) {
    if (date < startOn) continue;
    sum += ofDay(minC, maxC, { lowerC, upperC });
    accumulated.push({ date, degreeDays: sum });
    if (completesOn === null && sum >= degreeDays - CLOSE) completesOn = date;
  }
  return { accumulated, completesOn };
}
