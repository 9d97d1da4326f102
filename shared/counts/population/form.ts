import { z } from 'zod';
import { day } from '../../days.ts';
import {
  animals,
  fullCount,
  level,
  MOST_ANIMALS,
  markRecaptureCount,
  removalCount,
  sampleCount,
  visibleCount,
} from '../form.ts';

/** Two years of weekly steps; farther ahead a forecast says nothing. */
const MOST_WEEKS = 104;
const DEFAULT_WEEKS = 8;

const dated = { date: day, kind: z.literal('count') };

/** A head count by any method, on a day. */
const countEvent = z.discriminatedUnion('method', [
  fullCount.extend(dated),
  visibleCount.extend(dated),
  sampleCount.extend(dated),
  removalCount.safeExtend(dated),
  markRecaptureCount.safeExtend(dated),
]);

const sdLog = z.number().min(0).max(5);

/** A positive unknown: log-normal with this median; sdLog 0 is a number known exactly. */
const positive = (least: number, most: number) =>
  z.strictObject({ median: z.number().min(least).max(most), sdLog });

/** What happened to a culture on a day, as far as numbers go. */
const populationEvent = z.discriminatedUnion('kind', [
  z.strictObject({ date: day, kind: z.literal('removed'), animals }),
  z.strictObject({ date: day, kind: z.literal('added'), animals }),
  z.strictObject({
    date: day,
    kind: z.literal('die-off'),
    /** The share that survived. */
    survival: z.strictObject({ median: z.number().gt(0).max(1), sdLog }),
  }),
  countEvent,
]);

const populationStart = z.strictObject({
  date: day,
  animals: z.number().gt(0).max(MOST_ANIMALS),
  sdLog,
});

/** What is known of the species in such an enclosure before anything was counted. */
const populationProfile = z.strictObject({
  growthPerWeek: positive(0.0001, 10),
  capacity: positive(0.5, MOST_ANIMALS),
  /** Standard deviation of log N per square root of a week, beyond logistic growth. */
  processSd: z.number().min(0).max(2),
});

export const populationInput = z
  .strictObject({
    start: populationStart,
    profile: populationProfile,
    events: z.array(populationEvent).max(100_000).default([]),
    asOf: day,
    horizonWeeks: z.int().min(0).max(MOST_WEEKS).default(DEFAULT_WEEKS),
    level,
    atLeast: z.array(z.number().min(0).max(MOST_ANIMALS)).max(100).default([]),
  })
  .superRefine(({ start, events, asOf }, context) => {
    const fault = (path: (string | number)[], message: string) => {
      context.addIssue({ code: 'custom', path, message });
    };
    if (asOf < start.date) fault(['asOf'], `is before the start, ${start.date}`);
    let latest = start.date;
    for (const [i, { date }] of events.entries()) {
      if (date < start.date) fault(['events', i, 'date'], `is before the start, ${start.date}`);
      else if (date < latest) fault(['events', i, 'date'], `is before the event above it, ${latest}`);
      else if (date > asOf) fault(['events', i, 'date'], `is after asOf, ${asOf}`);
      if (date > latest) latest = date;
    }
  });

export type PopulationInput = z.input<typeof populationInput>;
export type PopulationQuestion = z.output<typeof populationInput>;
export type PopulationEvent = z.output<typeof populationEvent>;
export type PopulationStart = z.output<typeof populationStart>;
export type PopulationProfile = z.output<typeof populationProfile>;
