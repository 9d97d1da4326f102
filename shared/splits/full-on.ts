import { addDays, type Day, daysBetween } from '../days.ts';

/** From this share of what the enclosure holds on, a culture counts as full: growth has become slow by then. */
const fullShare = 0.9;

/** So many animals make a culture count as full. */
export const fullFrom = (capacity: number): number => fullShare * capacity;

/**
 * Answers: the day from which a culture is likely full, from the medians of its forecast; between two of its weeks along
 * a straight line, rounded up to a whole day. Today where it is full already, null where the forecast does not get there.
 * Not a promise: half of the cultures like it get there earlier, half later.
 *
 * @example fullOn({ asOf: '2026-11-25', median: 80, capacity: 100, forecast: [{ date: '2026-12-02', median: 100 }] })
 * // '2026-11-29': 90 after 3.5 of 7 days
 */
export function fullOn(about: {
  asOf: Day;
  median: number;
  capacity: number;
  forecast: readonly { date: Day; median: number }[];
}): Day | null {
  const { asOf, median, capacity, forecast } = about;
  const full = fullFrom(capacity);
  if (!(full > 0)) return null;
  if (median >= full) return asOf;
  let before = { date: asOf, median };
  for (const week of forecast) {
    if (week.median >= full) {
      const share = (full - before.median) / (week.median - before.median);
      return addDays(before.date, Math.ceil(share * daysBetween(before.date, week.date) - 1e-9));
    }
    before = week;
  }
  return null;
}
