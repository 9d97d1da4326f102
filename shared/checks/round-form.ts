import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { dueKinds } from './care-due.ts';

/** So many cultures at once: more than stand in one place. */
export const mostAtOnce = 120;

const list = z.preprocess(
  (sent) => (typeof sent === 'string' ? [sent] : sent),
  z
    .array(z.string().min(1).max(200), { error: 'Tick the cultures first.' })
    .min(1, 'Tick the cultures first.')
    .max(mostAtOnce, `At most ${mostAtOnce} at once.`),
);

/** Several cultures that are all well, and whether what was due there was done too. */
export const manyForm = z.object({ codes: list, did: z.literal('yes').optional() });

/** Entries to be taken back together, as they stand in the notice's form. */
export const undoManyForm = z.object({
  ids: z
    .string()
    .regex(/^\d{1,12}(,\d{1,12}){0,119}$/)
    .transform((text) => text.split(',').map(Number)),
});

/** Work that waits, with its reason. */
export const putOffForm = z.object({
  what: z.enum(dueKinds, { error: 'Choose what waits.' }),
  days: typedNumber({ whole: true, min: 1, max: 60 }),
  reason: z
    .string({ error: 'Say why, so that whoever comes next knows.' })
    .trim()
    .min(3, 'Say why in a few words.')
    .max(200, 'At most 200 characters.'),
});

/** Codes of cultures as an open round asks for them: a JSON list in the address. Anything else is none. */
export const roundNews = z
  .string()
  .transform((text): unknown => {
    try {
      return JSON.parse(text);
    } catch {
      return null;
    }
  })
  .pipe(z.array(z.string().min(1).max(200)).max(mostAtOnce))
  .catch([]);
