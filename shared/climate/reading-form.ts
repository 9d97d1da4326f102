import { z } from 'zod';
import { day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { humidityPct, tempC } from './vapour.ts';

/** A reading taken by hand; when it was taken is now where nothing else is said. */
export const handReadingForm = z.object({
  temp: typedNumber({ min: -60, max: 160 }),
  humidity: typedNumber({ min: 0, max: 100 }).optional(),
  onDay: day.optional(),
  time: z
    .string()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'Write the time as 14:30.')
    .optional(),
});

export const sensorNameForm = z.object({
  name: z
    .string({ error: 'Give it a name.' })
    .trim()
    .min(1, 'Give it a name.')
    .max(80, 'At most 80 characters.')
    .regex(/^\P{C}*$/u, 'Letters, figures and signs only.'),
});

const sentReading = z.strictObject({
  /** When it was read, ISO 8601 with a zone; the moment it arrives where left out. */
  at: z.iso.datetime({ offset: true }).optional(),
  tempC,
  humidityPct: humidityPct.optional(),
});

/** As many as a sensor may keep back while there is no network. */
export const MOST_SENT = 500;

/** What a sensor sends: one reading, or those it has kept back. */
export const sentReadings = z.union([
  sentReading,
  z.strictObject({ readings: z.array(sentReading).min(1).max(MOST_SENT) }),
]);
export type SentReading = z.output<typeof sentReading>;
