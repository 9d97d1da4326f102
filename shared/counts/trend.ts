import { addDays, daysBetween } from '../days.ts';

/** What was believed of a number on a day: the middle and the ends between which it is 9 in 10 sure to lie. */
export type Believed = { onDay: string; median: number; lower: number; upper: number };

/**
 * Days at equal distances that end with `today`, the oldest first.
 *
 * Example: trendDays('2026-11-26', 2, 14) is ['2026-10-29', '2026-11-12', '2026-11-26'].
 */
export function trendDays(today: string, steps: number, everyDays: number): string[] {
  return Array.from({ length: steps + 1 }, (_, i) => addDays(today, (i - steps) * everyDays));
}

/**
 * What was believed on a day between two others, evenly on the way from one to the other; null before the first.
 * `last` is what was believed after the latest event up to that day, `next` before the first event after it.
 *
 * Example: between 100 on 1 November and 120 on 11 November, it was 110 on 6 November.
 */
export function believedOn(onDay: string, last: Believed | null, next: Believed | null): Believed | null {
  if (last === null) return null;
  const wholeWay = next === null ? 0 : daysBetween(last.onDay, next.onDay);
  if (next === null || wholeWay <= 0) return { ...last, onDay };
  const share = Math.min(1, daysBetween(last.onDay, onDay) / wholeWay);
  const at = (from: number, to: number) => from + (to - from) * share;
  return {
    onDay,
    median: at(last.median, next.median),
    lower: at(last.lower, next.lower),
    upper: at(last.upper, next.upper),
  };
}

/** z of a two-sided interval of 90 % of the normal distribution. */
const z90 = 1.6449;

/**
 * The sum of numbers believed on one day. Their doubts are taken as independent and as even to both sides, so their
 * variances add (Taylor, An Introduction to Error Analysis, 2nd ed. 1997, section 3.5).
 *
 * Example: twice 100 (67.1 to 132.9) is 200 (153.5 to 246.5).
 */
export function sumOfBelieved(onDay: string, parts: readonly Believed[]): Believed {
  const median = parts.reduce((sum, part) => sum + part.median, 0);
  const variance = parts.reduce((sum, { lower, upper }) => sum + ((upper - lower) / (2 * z90)) ** 2, 0);
  const half = z90 * Math.sqrt(variance);
  return { onDay, median, lower: Math.max(0, median - half), upper: median + half };
}

export type TrendWay = 'up' | 'down' | 'unclear';

/**
 * Whether a number has grown or shrunk from the first point to the last. It counts as such only where the middle of
 * each lies outside the doubt of the other; null with fewer than two points.
 *
 * Example: from 60 (50 to 72) to 140 (105 to 190) is up; to 70 (50 to 95) is unclear.
 */
export function trendWay(points: readonly Believed[]): TrendWay | null {
  const first = points[0];
  const last = points.at(-1);
  if (!first || !last || first === last) return null;
  if (last.lower > first.median && last.median > first.upper) return 'up';
  if (last.upper < first.median && last.median < first.lower) return 'down';
  return 'unclear';
}
