import { z } from 'zod';

/**
 * A number as people type it: a decimal point or comma, spaces between thousands, a half as 2 1/2 or 2½ (rulers with
 * inches have eighths). Null when it is no number, and for '1,234', which means different things in different places.
 *
 * @example readTyped('2,5') // 2.5
 * @example readTyped('2 3/8') // 2.375
 */
export function readTyped(text: string): number | null {
  const plain = onOneLine(text);
  const fraction = /^(?:(\d{1,6}) )?(\d{1,2})\/(\d{1,2})$/.exec(plain);
  if (fraction) {
    const [whole, top, bottom] = [Number(fraction[1] ?? 0), Number(fraction[2]), Number(fraction[3])];
    return bottom === 0 ? null : whole + top / bottom;
  }
  if (/^\d{1,3},\d{3}$/.test(plain)) return null;
  const digits = plain.replace(/ (?=\d{3}(\D|$))/g, '').replace(',', '.');
  return /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(digits) ? Number(digits) : null;
}

/** One space between words, '2½' as '2 1/2', a true minus as a hyphen. */
function onOneLine(text: string): string {
  return text
    .replace(/([\u00bc-\u00be\u2150-\u215e])/g, ' $1')
    .normalize('NFKC')
    .replace(/\u2044/g, '/')
    .replace(/\u2212/g, '-')
    .replace(/\s+/g, ' ')
    .trim();
}

export type TypedNumber = {
  min?: number;
  max?: number;
  /** Above, not at, this number. */
  above?: number;
  /** Below, not at, this number. */
  below?: number;
  whole?: boolean;
};

/** The words for what is wrong with a typed number, or null when nothing is. */
function complaint(value: number | null, { min, max, above, below, whole }: TypedNumber): string | null {
  if (value === null || !Number.isFinite(value))
    return whole
      ? 'Write a whole number, such as 12.'
      : 'Write a number, such as 12 or 0.5, without a thousands mark.';
  if (whole && !Number.isInteger(value)) return 'Write a whole number, such as 12.';
  if ((min !== undefined && value < min) || (max !== undefined && value > max)) {
    if (min !== undefined && max !== undefined) return `Must be between ${min} and ${max}.`;
    return min === undefined ? `Must be ${max} or less.` : `Must be ${min} or more.`;
  }
  if (above !== undefined && value <= above) return `Must be more than ${above}.`;
  if (below !== undefined && value >= below) return `Must be less than ${below}.`;
  return null;
}

/** The schema of a field that takes a number as people type it. */
export function typedNumber(limits: TypedNumber = {}) {
  return z.string({ error: 'Fill this in.' }).transform((text, context) => {
    const value = readTyped(text);
    const wrong = complaint(value, limits);
    if (wrong === null && value !== null) return value;
    context.addIssue({ code: 'custom', message: wrong ?? 'Write a number.' });
    return z.NEVER;
  });
}

/** The schema of a box to tick: true when it was sent. */
export const ticked = z
  .string()
  .optional()
  .transform((value) => value !== undefined);
