import { z } from 'zod';
import { level } from '../counts/form.ts';
import { day, daysBetween } from '../days.ts';
import { humidityPct, tempC } from './vapour.ts';

/** Checks from farther back say nothing of the enclosure as it is now. */
const MOST_DAYS_BACK = 7_305;

const SURFACES = ['wet', 'moist', 'dry'] as const;

/** One look at the substrate, and the water given after it. */
const dryingCheck = z.strictObject({
  date: day,
  surface: z.enum(SURFACES),
  wateredMl: z.number().min(0).max(100_000).default(0),
});

/** One reading of the room's air. */
const climateReading = z.strictObject({ date: day, tempC, humidityPct });

/** How long a watering lasts in such an enclosure, before this one was looked at. */
const dryingPrior = z.strictObject({
  daysToDry: z.number().min(0.1).max(1_000),
  sdLog: z.number().min(0).max(3),
  /** The vapour pressure deficit at which it lasts so long. */
  atVpdKpa: z.number().min(0.01).max(20),
});

export const dryingInput = z
  .strictObject({
    checks: z.array(dryingCheck).max(10_000).default([]),
    climate: z.array(climateReading).max(100_000).default([]),
    asOf: day,
    prior: dryingPrior,
    level,
  })
  .superRefine(({ checks, asOf }, context) => {
    let latest = '';
    for (const [i, { date }] of checks.entries()) {
      const fault = (message: string) =>
        context.addIssue({ code: 'custom', path: ['checks', i, 'date'], message });
      if (date > asOf) fault(`is after asOf, ${asOf}`);
      else if (daysBetween(date, asOf) > MOST_DAYS_BACK) fault('is more than twenty years before asOf');
      else if (date < latest) fault(`is before the check above it, ${latest}`);
      if (date > latest) latest = date;
    }
  });

export type DryingInput = z.input<typeof dryingInput>;
export type DryingQuestion = z.output<typeof dryingInput>;
export type DryingCheck = z.output<typeof dryingCheck>;
export type DryingPrior = z.output<typeof dryingPrior>;
export type ClimateReading = z.output<typeof climateReading>;
