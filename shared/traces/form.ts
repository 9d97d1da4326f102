import { z } from 'zod';
import { day } from '../days.ts';
import { neededLine, optionalLine, optionalLines, tidyLines } from '../text.ts';

/** A code as somebody types or chooses it; whether there is such a culture is asked later. */
const someCode = neededLine(40, 'Write its code.').optional();

/** Where feeders came from, and what was used before without being cleaned: on every form of work at a culture. */
export const contactFields = {
  feederFrom: someCode,
  tools: z.literal('yes').optional(),
  toolsFrom: someCode,
};
export type ContactFields = { feederFrom?: string; tools?: 'yes'; toolsFrom?: string };

export const toolsFields = { tools: contactFields.tools, toolsFrom: contactFields.toolsFrom };

/** What is followed from culture to culture. */
export const troubles = ['mites', 'mould', 'wrong species', 'die-off'] as const;
export type Trouble = (typeof troubles)[number];

/** How far back it is looked for where something came from, in days; null for all that is known. */
export const backDays = { '30': 30, '90': 90, '365': 365, all: null } as const;
export type Back = keyof typeof backDays;

const oneDay = z.string().trim().max(40).optional().catch(undefined);

/** What a trace is asked for, as it stands in its address; days are looked at later, for words beside their field. */
export const traceFilter = z.object({
  what: z.enum(troubles).optional().catch(undefined),
  since: oneDay,
  seen: oneDay,
  back: z.enum(['30', '90', '365', 'all']).catch('90'),
  sort: z.enum(['day', 'place']).catch('day'),
});
export type TraceFilter = z.output<typeof traceFilter>;

/** More boxes than there are cultures anywhere are not read. */
const mostChosen = 5_000;

/** The numbers of ticked boxes, each once; anything else that was sent is no box of ours. */
const chosenIds = z
  .union([z.string(), z.array(z.string())])
  .optional()
  .transform((sent) => [sent ?? []].flat().slice(0, mostChosen))
  .transform((sent) => [...new Set(sent.filter((id) => /^[1-9]\d{0,14}$/.test(id)).map(Number))]);

export const quarantineForm = z.object({
  chosen: chosenIds,
  /** All that can have been reached and was too much for the list: not those that were listed. */
  rest: z.literal('yes').optional(),
  listed: chosenIds,
  release: z.literal('yes').optional(),
  words: optionalLines(500),
});
export type QuarantineForm = z.output<typeof quarantineForm>;

/** The step that is to be taken back, by the instant at which it was written. */
export const undoForm = z.object({
  at: z.coerce.number().int().positive(),
  /** Reserved groups that were set free along with it, for the words. */
  freed: z.coerce.number().int().min(0).catch(0),
});

const longestNotice = 3000;

/** What a customer was told about an order. */
export const toldForm = z.object({
  order: z.coerce.number().int().positive(),
  text: z
    .string({ error: 'Write what they were told.' })
    .transform(tidyLines)
    .pipe(
      z
        .string()
        .min(1, 'Write what they were told.')
        .max(longestNotice, `This is too long: ${longestNotice} characters at most.`),
    ),
});

const writtenContactKinds = ['shared tool', 'seeding', 'feeders'] as const;

/** A contact that nobody wrote down when it happened. */
export const contactForm = z.object({
  way: z.enum(['to', 'from'], { error: 'Choose one.' }),
  other: neededLine(40, 'Write the code of the other culture.'),
  kind: z.enum(writtenContactKinds, { error: 'Choose one.' }),
  onDay: day,
  note: optionalLine(500),
});
