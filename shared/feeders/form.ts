import { z } from 'zod';
import { addDays, day } from '../days.ts';

/** Two years of weeks; no feeder is planned farther ahead. */
const MOST_WEEKS = 104;
const MOST_FEEDERS = 10_000_000;

/** What one feeder culture does: nothing before `leadDays`, then `yield` animals evenly over `productiveDays`. */
const feederCulture = z
  .strictObject({
    leadDays: z.int().min(0).max(400),
    productiveDays: z.int().min(1).max(3_650),
    yield: z.number().gt(0).max(MOST_FEEDERS),
    /** Animals that begin it. */
    seedAdults: z.number().min(0).max(MOST_FEEDERS),
  })
  .refine((culture) => culture.seedAdults < culture.yield, {
    path: ['seedAdults'],
    error: 'must be less than yield: a culture that takes as much as it gives feeds nobody',
  });

export const feedersInput = z
  .strictObject({
    weeks: z
      .array(z.strictObject({ weekStart: day, demand: z.number().min(0).max(MOST_FEEDERS) }))
      .max(MOST_WEEKS)
      .default([]),
    culture: feederCulture,
    running: z
      .array(z.strictObject({ startedOn: day, cultures: z.int().min(0).max(100_000) }))
      .max(10_000)
      .default([]),
    /** So many times the demand is to be there. */
    safety: z.number().min(1).max(10).default(1.2),
  })
  .superRefine(({ weeks }, context) => {
    for (const [i, { weekStart }] of weeks.entries()) {
      const before = weeks[i - 1];
      if (before && addDays(before.weekStart, 7) !== weekStart)
        context.addIssue({
          code: 'custom',
          path: ['weeks', i, 'weekStart'],
          message: `must be a week after the one above it, ${before.weekStart}`,
        });
    }
  });

export type FeedersInput = z.input<typeof feedersInput>;
export type FeedersQuestion = z.output<typeof feedersInput>;
export type FeederCulture = z.output<typeof feederCulture>;
