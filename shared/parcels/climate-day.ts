import { z } from 'zod';
import { tempC } from '../climate/vapour.ts';
import { addDays, type Day, day } from '../days.ts';
import { dayLengthH } from './day-length.ts';

/** The low and the high of a day. */
export const lowAndHigh = z
  .strictObject({ date: day, minC: tempC, maxC: tempC })
  .refine(({ minC, maxC }) => minC <= maxC, { path: ['maxC'], error: 'must not be below minC' });

/** Lows and highs of days in a row, and where. */
export const climateDayInput = z
  .strictObject({
    days: z.array(lowAndHigh).min(1).max(400),
    latitude: z.number().min(-90).max(90),
  })
  .superRefine(({ days }, context) => {
    for (const [i, { date }] of days.entries()) {
      const before = days[i - 1];
      if (before && addDays(before.date, 1) !== date)
        context.addIssue({
          code: 'custom',
          path: ['days', i, 'date'],
          message: `must be the day after the one above it, ${before.date}`,
        });
    }
  });
export type ClimateDayQuestion = z.output<typeof climateDayInput>;
export type LowAndHigh = z.output<typeof lowAndHigh>;

export interface ClimateHours {
  hours: { date: Day; hour: number; tempC: number }[];
}

/** By how much the sine of the day is longer than the day: it is warmest two hours after noon. */
const SINE_LONGER_H = 4;

interface Sun {
  rise: number;
  set: number;
  lengthH: number;
}

function sunOf(date: Day, latitude: number): Sun {
  const lengthH = dayLengthH(date, latitude);
  return { rise: 12 - lengthH / 2, set: 12 + lengthH / 2, lengthH };
}

const byDay = ({ minC, maxC }: LowAndHigh, { rise, lengthH }: Sun, hour: number) =>
  minC + (maxC - minC) * Math.sin((Math.PI * (hour - rise)) / (lengthH + SINE_LONGER_H));

/** The fall after sunset: by the logarithm of the hours since, `divisor` that of the whole night. */
const fall = (setC: number, lowC: number, divisor: number, sinceSetH: number) =>
  setC - ((setC - lowC) / divisor) * Math.log(sinceSetH + 1);

/**
 * The divisor of the hours before sunrise, as the reference implementation has it: it leaves out the hour that the
 * evening's has, so a long night ends a little below the low. That little grows without bound as nights get short, so
 * below so many hours the evening's divisor stands for both (ours).
 */
const SHORT_NIGHT_H = 4;
const morningDivisor = (nightH: number) => Math.log(nightH < SHORT_NIGHT_H ? nightH + 1 : nightH);

/** Where the sun does not rise or does not set there is no night to follow: one wave, warmest at two. */
const withoutNight = ({ minC, maxC }: LowAndHigh, hour: number) =>
  (minC + maxC) / 2 + ((maxC - minC) / 2) * Math.cos((Math.PI * (hour - 14)) / 12);

/**
 * A day's hours from its low and high: a sine from sunrise on, then a logarithmic fall to the low of the next morning.
 * The first night starts from the first day's own evening, the last night ends at its own low. Where the sun does not
 * rise or does not set, the day is one wave about its mean, warmest at two (ours; common practice, no source).
 *
 * Units: degrees Celsius; latitude in degrees, north positive; hours 0 to 23 by the sun, so noon is at 12.
 *
 * Errors: a high below its low; days that are not in a row.
 *
 * Source: Linvill (1990), Calculating chilling hours and chill units from daily maximum and minimum temperature
 * observations, HortScience 25:14-16; day length after Spencer (1971); the hour added to the time since sunset as the R
 * package chillR has it.
 *
 * @example climateDay({ latitude: 52.1, days: [{ date: '2026-06-21', minC: 12, maxC: 24 }] }).hours[14].tempC // 24
 */
export function climateDay({ days, latitude }: ClimateDayQuestion): ClimateHours {
  const suns = days.map(({ date }) => sunOf(date, latitude));
  const hours = days.flatMap((own, i) => {
    const [before, after] = [days[i - 1] ?? own, days[i + 1] ?? own];
    const sun = suns[i]!;
    const [sunBefore, sunAfter] = [suns[i - 1] ?? sun, suns[i + 1] ?? sun];
    const isPolar = [sun, sunBefore, sunAfter].some(({ lengthH }) => lengthH <= 0 || lengthH >= 24);
    return Array.from({ length: 24 }, (_, hour) => ({
      date: own.date,
      hour,
      tempC: isPolar ? withoutNight(own, hour) : tempAt(hour),
    }));

    function tempAt(hour: number): number {
      if (hour <= sun.rise) {
        const nightH = 24 - sunBefore.set + sun.rise;
        // The evening before is taken at today's length of day: they differ by minutes.
        const setC = byDay(before, sun, sun.set);
        return fall(setC, own.minC, morningDivisor(nightH), 24 - sunBefore.set + hour);
      }
      if (hour <= sun.set) return byDay(own, sun, hour);
      const nightH = 24 - sun.set + sunAfter.rise;
      return fall(byDay(own, sun, sun.set), after.minC, Math.log(nightH + 1), hour - sun.set);
    }
  });
  return { hours };
}
