import { addDays, type Day } from '../days.ts';

export type Paid = { kind: 'payment' | 'refund'; amountMinor: number };

export type Settlement = {
  /** What came in, less what went back. */
  paidMinor: number;
  /** What the customer still owes; 0 when nothing is. */
  openMinor: number;
  /** What they have paid too much. */
  overMinor: number;
};

/**
 * How a debt stands after payments and refunds, in minor units.
 *
 * @example settle(5000, [{ kind: 'payment', amountMinor: 6000 }, { kind: 'refund', amountMinor: 500 }])
 * // { paidMinor: 5500, openMinor: 0, overMinor: 500 }
 */
export function settle(owedMinor: number, payments: readonly Paid[]): Settlement {
  const paidMinor = payments.reduce(
    (sum, { kind, amountMinor }) => sum + (kind === 'payment' ? amountMinor : -amountMinor),
    0,
  );
  if (!Number.isSafeInteger(paidMinor) || !Number.isSafeInteger(owedMinor))
    throw new RangeError('not amounts in whole minor units');
  const rest = owedMinor - paidMinor;
  return { paidMinor, openMinor: Math.max(0, rest), overMinor: Math.max(0, -rest) };
}

/**
 * The day by which an invoice is to be paid.
 *
 * @example dueOn('2026-11-25', 14) // '2026-12-09'
 */
export const dueOn = (issuedOn: Day, termDays: number): Day => addDays(issuedOn, termDays);

/**
 * The last day on which an invoice must still be kept: the end of the calendar year so many years after the one it was
 * written in. Laws differ in when the time begins; counting from the year's end is the longest common way.
 *
 * @example keptUntil('2026-03-01', 10) // '2036-12-31'
 */
export const keptUntil = (issuedOn: Day, years: number): Day =>
  `${String(Number(issuedOn.slice(0, 4)) + years).padStart(4, '0')}-12-31`;

/**
 * An invoice's number as it is printed: the prefix and at least four figures.
 *
 * @example numberWords('RE-', 7) // 'RE-0007'
 */
export const numberWords = (prefix: string, place: number): string =>
  `${prefix}${String(place).padStart(4, '0')}`;
