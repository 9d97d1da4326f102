import { z } from 'zod';
import { isDay } from '../days.ts';
import { moneyField } from '../orders/money.ts';
import { typedNumber } from '../settings/typed-number.ts';
import { neededLine, optionalLine, optionalLines } from '../text.ts';
import { readRate, taxModes, writeRate } from './tax.ts';

const notADay = 'Write a day of the calendar, such as 2026-11-30.';
const day = z.string({ error: notADay }).trim().refine(isDay, { error: notADay });

const id = (missing: string) =>
  z
    .string({ error: missing })
    .regex(/^[1-9]\d{0,14}$/, missing)
    .transform(Number);

/** How invoices are numbered and what stands on all of them, and how long they are kept. */
export const invoicingForm = z.object({
  prefix: optionalLine(20).refine((text) => !/\d$/.test(text), {
    error: 'End it with something that is no figure, such as RE- or 2026/: the number follows at once.',
  }),
  firstNumber: typedNumber({ min: 1, max: 99_999_999, whole: true }),
  taxNumber: optionalLine(60),
  termDays: typedNumber({ min: 0, max: 365, whole: true }),
  payWords: optionalLines(600),
  exempt: z.literal('yes').optional(),
  exemptEn: optionalLine(300),
  exemptDe: optionalLine(300),
  exemptEs: optionalLine(300),
  keepYears: typedNumber({ min: 0, max: 30, whole: true }),
  inactiveYears: typedNumber({ min: 1, max: 30, whole: true }),
});
export type InvoicingForm = z.infer<typeof invoicingForm>;

/** What is still missing when no tax is charged: the sentence that says why, in one language at least. */
export function missingForExempt(
  form: Pick<InvoicingForm, 'exempt' | 'exemptEn' | 'exemptDe' | 'exemptEs'>,
): Record<string, string> {
  const isSaid = form.exemptEn !== '' || form.exemptDe !== '' || form.exemptEs !== '';
  return form.exempt === 'yes' && !isSaid
    ? { exemptEn: 'Write the sentence that invoices must carry, in one language at least.' }
    : {};
}

/** A tax: what it is called, how much, and from which day to which. */
export const rateForm = z.object({
  name: neededLine(40, 'Write what the tax is called on the invoice.'),
  rate: z
    .string({ error: 'Write the rate in percent.' })
    .transform(readRate)
    .refine((rate): rate is number => rate !== null, {
      error: 'Write the rate in percent, such as 19 or 8.875; 100 at most.',
    }),
  mode: z.enum(taxModes, { error: 'Choose whether your prices hold it already.' }),
  onGoods: z.literal('yes').optional(),
  onCarriage: z.literal('yes').optional(),
  fromOn: day,
  untilOn: day.optional(),
});
export type RateForm = z.infer<typeof rateForm>;

export const rateFieldWords = {
  name: 'What it is called',
  rate: 'Rate',
  mode: 'Your prices',
  onGoods: 'On animals',
  onCarriage: 'On postage',
  fromOn: 'Counts from',
  untilOn: 'Counts until',
} satisfies Record<string, string>;

type StoredRate = {
  name: string;
  rateThousandths: number;
  mode: (typeof taxModes)[number];
  onGoods: boolean;
  onCarriage: boolean;
  fromOn: string;
  untilOn: string | null;
};

/**
 * A stored tax as the fields of its form take it.
 *
 * @example rateFormValues({ name: 'VAT', rateThousandths: 19000, mode: 'added', onGoods: true, onCarriage: false,
 *   fromOn: '2026-01-01', untilOn: null })
 * // { name: 'VAT', rate: '19', mode: 'added', onGoods: 'yes', onCarriage: '', fromOn: '2026-01-01', untilOn: '' }
 */
export const rateFormValues = (stored: StoredRate): Record<string, string> => ({
  name: stored.name,
  rate: writeRate(stored.rateThousandths),
  mode: stored.mode,
  onGoods: stored.onGoods ? 'yes' : '',
  onCarriage: stored.onCarriage ? 'yes' : '',
  fromOn: stored.fromOn,
  untilOn: stored.untilOn ?? '',
});

/**
 * What does not go together in a tax, by field.
 *
 * @example rateFaults({ fromOn: '2026-01-01', untilOn: '2025-12-31', onGoods: 'yes' })
 * // { untilOn: 'Write a day that is not before the first one.' }
 */
export function rateFaults(
  form: Pick<RateForm, 'onGoods' | 'onCarriage' | 'fromOn' | 'untilOn'>,
): Record<string, string> {
  if (!form.onGoods && !form.onCarriage) return { onGoods: 'Choose animals, postage or both.' };
  if (form.untilOn !== undefined && form.untilOn < form.fromOn)
    return { untilOn: 'Write a day that is not before the first one.' };
  return {};
}

export const wayForm = z.object({ name: neededLine(60, 'Write the way, such as Bank transfer or Cash.') });

/** An invoice is written for the day on which the animals were handed over. */
export const invoiceForm = z.object({
  suppliedOn: day,
  /** A print of what was looked at. */
  seen: z.string().max(64).default(''),
});

/** What is given back of an invoice: all of it, or amounts of its two kinds of lines. */
export const creditForm = (currency: string) =>
  z.object({
    extent: z.enum(['whole', 'part'], { error: 'Choose how much of the invoice.' }),
    goods: moneyField(currency).optional(),
    carriage: moneyField(currency).optional(),
    reason: neededLine(300, 'Write why; it stands on the credit note.'),
    /** What was written down after a loss and led here. */
    amends: id('Reload the page.').optional(),
  });

export const paymentForm = (currency: string) =>
  z.object({
    kind: z.enum(['payment', 'refund'], { error: 'Choose whether money came in or went back.' }),
    amount: moneyField(currency, 'Write the amount.').refine((minor) => minor > 0, {
      error: 'Write an amount above zero.',
    }),
    way: id('Choose how it was paid.'),
    paidOn: day,
    note: optionalLine(200),
  });
