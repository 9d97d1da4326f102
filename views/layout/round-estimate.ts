import { defaultLocale, formatNumber } from './format.ts';

export type RoundedEstimate = {
  median: number;
  lower: number;
  upper: number;
  /** Nothing is in doubt: say the number alone. */
  exact: boolean;
};

/** The largest of 1, 5, 10, 50, 100 ... that is not above the limit; never below 1. */
function stepUpTo(limit: number): number {
  if (!(limit >= 5)) return 1;
  const ten = 10 ** Math.floor(Math.log10(limit) + 1e-9);
  return limit >= 5 * ten ? 5 * ten : ten;
}

function toStep(value: number, step: number): number {
  return Math.round(value / step) * step;
}

/** At most an eighth of the value itself, so that a small bound of a wide interval is not rounded away. */
function ownStep(value: number): number {
  return stepUpTo(value / 8);
}

/**
 * Answers: how to write an estimate without claiming more than is known. The step of rounding is at most a
 * tenth of the interval's width (from 1, 5, 10, 50 ...), so no end moves by more than a twentieth of it;
 * what is small beside the width is rounded by at most an eighth of itself. Below 20: whole animals.
 * Example: 138.2 (104.1 to 191.7) -> 140 (105 to 190).
 */
export function roundEstimate(median: number, lower: number, upper: number): RoundedEstimate {
  if (![median, lower, upper].every(Number.isFinite))
    throw new RangeError('An estimate needs finite numbers');
  const width = upper - lower;
  if (width < 0.5) {
    const whole = Math.round(median);
    return { median: whole, lower: whole, upper: whole, exact: true };
  }
  const step = upper < 20 ? 1 : stepUpTo(width / 10);
  const round = (value: number) => toStep(value, Math.min(step, ownStep(value)));
  return { median: round(median), lower: round(lower), upper: round(upper), exact: false };
}

/** "about 140 (105 to 190)"; "about 12" when rounding leaves no interval; "12" when nothing is in doubt. */
export function formatEstimate(
  median: number,
  lower: number,
  upper: number,
  locale: string = defaultLocale,
): string {
  const rounded = roundEstimate(median, lower, upper);
  const number = (value: number) => formatNumber(value, locale);
  if (rounded.exact) return number(rounded.median);
  const middle = `about ${number(rounded.median)}`;
  return rounded.lower === rounded.upper
    ? middle
    : `${middle} (${number(rounded.lower)} to ${number(rounded.upper)})`;
}
