import { z } from 'zod';
import { tidyLine } from '../text.ts';

/** Erasing cannot be undone, so the customer's number is typed once more. */
export const eraseForm = z.object({
  number: z.string({ error: 'Type the customer’s number.' }).transform(tidyLine),
});

/**
 * Whether the number that was typed is that of the customer.
 *
 * @example isTypedRight('12', 12) // true
 */
export const isTypedRight = (typed: string, customerId: number): boolean => typed === String(customerId);
