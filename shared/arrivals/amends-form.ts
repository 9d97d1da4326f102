import { z } from 'zod';
import { moneyField } from '../orders/money.ts';
import { neededLine } from '../text.ts';

export const amendsKinds = ['refund', 'credit', 'reship'] as const;
export type AmendsKind = (typeof amendsKinds)[number];

/** What is done about a loss: money back, money off the next order, or the animals once more on another order. */
export const amendsForm = (currency: string) =>
  z.object({
    kind: z.enum(amendsKinds, { error: 'Choose what you do about it.' }),
    amount: moneyField(currency).optional(),
    newOrder: z
      .string({ error: 'Write the number of the order.' })
      .trim()
      .regex(/^[1-9]\d{0,8}$/, 'Write the number of the order, such as 12.')
      .transform(Number)
      .optional(),
    reason: neededLine(500, 'Write why, in a few words.'),
  });

export type AmendsValues = z.infer<ReturnType<typeof amendsForm>>;

/**
 * What the kind still lacks, by field: a refund and a credit need an amount, a reship needs the order it goes out on.
 *
 * @example missingFor({ kind: 'refund', reason: 'two dead' }) // { amount: 'Write the amount.' }
 */
export function missingFor({
  kind,
  amount,
  newOrder,
}: Pick<AmendsValues, 'kind' | 'amount' | 'newOrder'>): Record<string, string> {
  if (kind === 'reship')
    return newOrder === undefined ? { newOrder: 'Write the number of the order it goes out on.' } : {};
  return amount === undefined || amount <= 0 ? { amount: 'Write the amount.' } : {};
}
