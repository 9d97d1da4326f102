import { z } from 'zod';
import { version } from '../customers/form.ts';
import { isDay } from '../days.ts';
import { languages } from '../settings/languages.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { optionalLine, optionalLines } from '../text.ts';
import { moneyField } from './money.ts';

/** An order has at most this many lines. */
export const mostLines = 30;

const id = (missing: string) =>
  z
    .string({ error: missing })
    .regex(/^[1-9]\d{0,14}$/, missing)
    .transform(Number);

const notADay = 'Write a day of the calendar, such as 2026-11-30.';
const plainDay = z.string({ error: notADay }).trim().refine(isDay, { error: notADay });

/** What an order says besides its lines. */
export const orderHead = (currency: string) =>
  z.object({
    customer: id('Choose a customer.'),
    dispatchOn: plainDay.optional(),
    postage: moneyField(currency).optional(),
    /** Of what the customer reads about this order; left out, it is the customer's own. */
    language: z.enum(languages, { error: 'Choose a language from the list.' }).optional(),
    note: optionalLines(2000),
    version: version.optional(),
  });

/** One line of an order; a price that is left out is the species' own. */
export const orderLine = (currency: string) =>
  z.object({
    line: id('Reload the page.').optional(),
    species: id('Choose a species.'),
    groups: typedNumber({ min: 1, max: 1000, whole: true }),
    price: moneyField(currency).optional(),
    /** Unrelated starts: each group from another line of cultures. */
    separateLines: z.literal('yes').optional(),
  });

export type OrderHead = z.infer<ReturnType<typeof orderHead>>;
export type OrderLineForm = z.infer<ReturnType<typeof orderLine>>;

/** How the fields of an order's row of the form are called. */
export const rowField = (name: keyof OrderLineForm, row: number) => `${name}-${row}`;

/** What goes with a reservation by hand. */
export const reserveForm = z.object({
  override: z.literal('yes').optional(),
  overrideReason: optionalLines(500),
});

/** The field in which groups of a culture are entered for a line. */
export const groupsField = (lineId: number, cultureId: number) => `groups-${lineId}-${cultureId}`;

export const groupsToReserve = typedNumber({ min: 0, max: 1000, whole: true });

/** How urgent an order is where there is not enough for all: 1 to 3, a higher number comes first. */
export const urgencyForm = z.enum(['1', '2', '3']).transform(Number);
export const urgencyWords = ['Like any other', 'Before others', 'First of all'] as const;
export const urgencyField = (orderNumber: number) => `urgent-${orderNumber}`;

export const releaseForm = z.object({ allocation: id('Reload the page.') });

export const cancelForm = z.object({ reason: optionalLines(500) });

/** Whether a mail tells the customer of a step. */
const tellField = z.literal('yes').optional();

export const tellForm = z.object({ tell: tellField });

const notALink = 'Write the whole address, beginning with https://.';
/** Other kinds of addresses could run something in the customer's mail program. */
const webLink = z
  .url({ protocol: /^https$/, hostname: z.regexes.domain, error: notALink })
  .max(500, 'Use at most 500 characters.');

export const sentForm = z.object({
  sentOn: plainDay,
  tracking: optionalLine(100),
  trackingLink: z.string({ error: notALink }).trim().pipe(webLink).optional(),
  tell: tellField,
  /** Why it left although a movement rule stood against it. */
  despite: optionalLines(500),
});

/** Whether the extras of a pick went along as juveniles or as adults. */
export const extrasAs = ['juveniles', 'adults'] as const;
export type ExtrasAs = (typeof extrasAs)[number];

export const tickField = (pick: string) => `tick-${pick}`;
export const extrasField = (pick: string) => `extras-${pick}`;
