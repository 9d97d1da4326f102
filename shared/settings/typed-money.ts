import { z } from 'zod';
import { readTyped } from './typed-number.ts';

/**
 * How many digits the minor unit of a currency has (ISO 4217, as the platform's own locale data gives it).
 *
 * @example minorDigits('JPY') // 0
 */
export function minorDigits(currency: string): number {
  const format = new Intl.NumberFormat('en', { style: 'currency', currency });
  return format.resolvedOptions().maximumFractionDigits ?? 2;
}

/**
 * An amount in minor units as its field shows it.
 *
 * @example shownMoney(1250, 'EUR') // '12.50'
 */
export function shownMoney(minor: number, currency: string): string {
  const digits = minorDigits(currency);
  return (minor / 10 ** digits).toFixed(digits);
}

/** The schema of a field that takes an amount of money, zero or more; it comes out in whole minor units. */
export function typedMoney(currency: string) {
  const digits = minorDigits(currency);
  return z.string({ error: 'Fill this in.' }).transform((text, context) => {
    const amount = readTyped(text);
    const minor = amount === null ? Number.NaN : Math.round(amount * 10 ** digits);
    if (!(minor >= 0 && minor <= 1e11)) {
      context.addIssue({ code: 'custom', message: 'Write an amount, such as 12.50, without the currency.' });
      return z.NEVER;
    }
    if (Math.abs((amount ?? 0) * 10 ** digits - minor) > 1e-6) {
      context.addIssue({ code: 'custom', message: `${currency} has ${digits} figures after the point.` });
      return z.NEVER;
    }
    return minor;
  });
}
