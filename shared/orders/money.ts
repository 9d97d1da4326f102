import { z } from 'zod';
import { minorDigits } from '../settings/typed-money.ts';
import { tidyLine } from '../text.ts';

/** The largest amount a field takes, in minor units; thousands of lines of it still add up exactly. */
const largestAmountMinor = 1_000_000_000;

export type ReadMoney = { ok: true; minor: number } | { ok: false; error: string };

const whole = 'Write only the amount, such as 12 or 1250, without a sign or the currency.';

function complaint(text: string, digits: number): string {
  if (/^[-\u2212]/.test(text)) return 'An amount cannot be below zero.';
  if (/^\d{1,3}([.,']\d{3})+([.,]\d+)?$/.test(text))
    return 'Write thousands without a mark between them, such as 1250.';
  if (digits > 0 && /^\d+[.,]\d+$/.test(text))
    return `Write at most ${digits} figures after the point, such as ${(12.5).toFixed(digits)}.`;
  if (digits === 0) return `${whole} This currency has no smaller unit.`;
  return `Write an amount, such as ${(12.5).toFixed(digits)}, without the currency.`;
}

/**
 * Reads an amount as people type it, with a decimal point or comma, into whole minor units; nothing is rounded and
 * nothing is guessed. A space may stand between thousands; a comma or a point there is refused, because 1,250 means
 * different things in different places.
 *
 * @param digits figures of the minor unit: 2 for EUR, 0 for JPY
 * @example readMoney('12,50', 2) // { ok: true, minor: 1250 }
 * @example readMoney('1,250', 2).ok // false
 */
export function readMoney(text: string, digits: number): ReadMoney {
  const plain = tidyLine(text).replace(/^\d{1,3}( \d{3})+(?=$|[.,])/, (figures) =>
    figures.replaceAll(' ', ''),
  );
  const match = /^(\d+)(?:[.,](\d*))?$/.exec(plain);
  const fraction = match?.[2] ?? '';
  if (!match || fraction.length > digits || (digits === 0 && match[2] !== undefined))
    return { ok: false, error: complaint(plain, digits) };
  const figures = `${match[1]}${fraction.padEnd(digits, '0')}`.replace(/^0+(?=\d)/, '');
  // Compared by length first: a long row of figures would lose its last ones as a number.
  if (figures.length > 10 || Number(figures) > largestAmountMinor)
    return { ok: false, error: `Write an amount of at most ${writeMoney(largestAmountMinor, digits)}.` };
  return { ok: true, minor: Number(figures) };
}

/**
 * An amount in minor units as its field shows it.
 *
 * @example writeMoney(1250, 2) // '12.50'
 */
export function writeMoney(minor: number, digits: number): string {
  exact(minor);
  const figures = String(minor).padStart(digits + 1, '0');
  return digits === 0
    ? figures
    : `${figures.slice(0, figures.length - digits)}.${figures.slice(figures.length - digits)}`;
}

/** The schema of a field that takes an amount in a currency; it comes out in whole minor units. */
export function moneyField(currency: string, missing = 'Write an amount.') {
  const digits = minorDigits(currency);
  return z.string({ error: missing }).transform((text, context) => {
    const read = readMoney(text, digits);
    if (read.ok) return read.minor;
    context.addIssue({ code: 'custom', message: read.error });
    return z.NEVER;
  });
}

export type Priced = { groups: number; priceMinor: number };

/**
 * What a line costs: groups times the price of one. A RangeError when that is no whole number that is exact.
 *
 * @example lineTotal({ groups: 3, priceMinor: 1250 }) // 3750
 */
export function lineTotal({ groups, priceMinor }: Priced): number {
  return exact(exact(groups) * exact(priceMinor));
}

/**
 * What an order costs: its lines and the postage.
 *
 * @example orderTotal([{ groups: 3, priceMinor: 1250 }, { groups: 1, priceMinor: 990 }], 495) // 5235
 */
export function orderTotal(lines: readonly Priced[], postageMinor: number): number {
  let total = exact(postageMinor);
  for (const line of lines) total = exact(total + lineTotal(line));
  return total;
}

function exact(value: number): number {
  if (!Number.isSafeInteger(value) || value < 0 || Object.is(value, -0))
    throw new RangeError(`not an amount in whole minor units: ${value}`);
  return value;
}
