import { addDays, daysBetween } from '../days.ts';

/** What was believed of a culture's number around the events of one quarter of a year. */
export type Quarter = {
  /** The first of its events. */
  onDay: string;
  /** The estimate just before that event. */
  before: number;
  /** The harmonic mean of the estimates before and after all its events. */
  mean: number;
};

export type SizedAddition = { onDay: string; before: number; after: number };

export type Size = { date: string; animals: number };

const half = (from: string, to: string): string => addDays(from, Math.floor(daysBetween(from, to) / 2));

/**
 * The sizes of a culture over time, as `kinship` takes them: few, and on the safe side.
 *
 * From its founding on a culture has its founding animals. A quarter in which something happened stands for itself
 * by the harmonic mean of what was believed around its events (over time the effective size is the harmonic mean,
 * Wright 1938, so that a bottleneck weighs as it should). Between two such days, and from the last to today, the
 * earlier size holds for the first half and what the estimate has grown to for the second. Around an addition the
 * sizes just before it and on the next day are given, because the culture becomes a mixture by them.
 *
 * @example sizesOf({ foundedOn: '2026-01-01', quarters: [{ onDay: '2026-03-02', before: 40, mean: 44 }],
 *   additions: [], now: 80, asOf: '2026-03-22' })
 * // 40 from 2026-01-31, 44 from 2026-03-02, 80 from 2026-03-12
 */
export function sizesOf(culture: {
  foundedOn: string;
  quarters: readonly Quarter[];
  additions: readonly SizedAddition[];
  /** The estimate of today; null where none is known. */
  now: number | null;
  asOf: string;
}): Size[] {
  const { foundedOn, quarters, additions, now, asOf } = culture;
  const sizes: Size[] = [];
  let since = foundedOn;
  for (const { onDay, before, mean } of quarters) {
    const between = half(since, onDay);
    if (between > since) sizes.push({ date: between, animals: before });
    sizes.push({ date: onDay, animals: mean });
    since = onDay;
  }
  const last = half(since, asOf);
  if (now !== null && last > since) sizes.push({ date: last, animals: now });
  for (const { onDay, before, after } of additions) {
    sizes.push({ date: onDay, animals: before });
    const next = addDays(onDay, 1);
    if (next <= asOf) sizes.push({ date: next, animals: after });
  }
  // Stable: on the day of an addition the size just before it comes last, and holds.
  return sizes.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
}
