import { z } from 'zod';
import { day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { type DueKind, dueKinds } from './care-due.ts';
import { lookedFor } from './form.ts';

/** So many cultures at once: more than stand in one place. */
const mostAtOnce = 120;

const list = z.preprocess(
  (sent) => (typeof sent === 'string' ? [sent] : sent),
  z
    .array(z.string().min(1).max(200), { error: 'Tick the cultures first.' })
    .min(1, 'Tick the cultures first.')
    .max(mostAtOnce, `At most ${mostAtOnce} at once.`),
);

/** What a tap said was done, as a page carries it: "feed fruit". Words that are none are left out. */
function doneKinds(text: string): DueKind[] {
  const said = text.split(' ');
  return dueKinds.filter((kind) => said.includes(kind));
}

/**
 * All is well. What was kept on a phone says its day, and what was done: by the time it is sent somebody else may have
 * done the same, and then it would not be due any more.
 */
export const wellForm = z.object({
  did: z.literal('yes').optional(),
  onDay: day.optional(),
  what: z.string().max(60).transform(doneKinds).optional(),
  /** What this look was looking for besides, and whether it found it. */
  lookedFor: z.enum(lookedFor).optional(),
});

/** "feed,fruit A-12": what was done at which culture. */
const doneAt = z
  .string()
  .max(300)
  .transform((text) => {
    const cut = text.indexOf(' ');
    return { kinds: doneKinds(text.slice(0, cut).replaceAll(',', ' ')), code: text.slice(cut + 1) };
  });
const oneOrMore = (sent: unknown) => (typeof sent === 'string' ? [sent] : sent);

/** Several cultures that are all well, and whether what was due there was done too; `along` says it where it was kept on a phone. */
export const manyForm = z.object({
  codes: list,
  did: z.literal('yes').optional(),
  onDay: day.optional(),
  along: z.preprocess(oneOrMore, z.array(doneAt).max(mostAtOnce)).optional(),
});

/** Entries to be taken back together, as they stand in the notice's form. */
export const undoManyForm = z.object({
  ids: z
    .string()
    .regex(/^\d{1,12}(,\d{1,12}){0,119}$/)
    .transform((text) => text.split(',').map(Number)),
});

/** A start of feeder cultures that waits, with its reason. */
export const startPutOffForm = z.object({
  days: typedNumber({ whole: true, min: 1, max: 60 }),
  reason: z
    .string({ error: 'Say why, so that whoever comes next knows.' })
    .trim()
    .min(3, 'Say why in a few words.')
    .max(200, 'At most 200 characters.'),
});

/** Work that waits, with its reason. */
export const putOffForm = startPutOffForm.extend({
  what: z.enum(dueKinds, { error: 'Choose what waits.' }),
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
