import { z } from 'zod';

const MS_PER_DAY = 86_400_000;
const PATTERN = /^(\d{4})-(\d{2})-(\d{2})$/;

/** A civil day of the proleptic Gregorian calendar as text, 'YYYY-MM-DD' (ISO 8601); years 0100 to 9999. */
export type Day = string;

/**
 * Days from 1970-01-01 to the given day; negative before. A day is not an instant: no zone is involved.
 * Throws a RangeError for text that is no day of the calendar.
 *
 * @example toEpochDay('2026-03-01') // 20513
 */
export function toEpochDay(day: Day): number {
  const epochDay = parse(day);
  if (epochDay === null) throw new RangeError(`not a day of the calendar: ${day}`);
  return epochDay;
}

/**
 * The day that lies the given whole number of days after 1970-01-01. Throws a RangeError outside 0100 to 9999.
 *
 * @example fromEpochDay(20513) // '2026-03-01'
 */
export function fromEpochDay(epochDay: number): Day {
  const date = new Date(epochDay * MS_PER_DAY);
  const year = date.getUTCFullYear();
  if (!Number.isInteger(epochDay) || !(year >= 100 && year <= 9999)) {
    throw new RangeError(`no day with the number ${epochDay}`);
  }
  return date.toISOString().slice(0, 10);
}

/**
 * The day so many days later (earlier when negative).
 *
 * @example addDays('2024-02-28', 2) // '2024-03-01', a leap year
 */
export function addDays(day: Day, days: number): Day {
  return fromEpochDay(toEpochDay(day) + days);
}

/**
 * Whole days from one day to another; negative when `to` is earlier.
 *
 * @example daysBetween('2026-02-28', '2026-03-01') // 1
 */
export function daysBetween(from: Day, to: Day): number {
  return toEpochDay(to) - toEpochDay(from);
}

/**
 * Whether the text is a real day of the calendar, written YYYY-MM-DD.
 *
 * @example isDay('2026-02-30') // false
 */
export function isDay(text: string): boolean {
  return parse(text) !== null;
}

/** The zod schema of a day: text, YYYY-MM-DD, and really on the calendar. */
export const day = z
  .string()
  .regex(PATTERN, { error: 'must be a day written YYYY-MM-DD', abort: true })
  .refine(isDay, { error: 'is not a day of the calendar' });

function parse(text: string): number | null {
  const match = PATTERN.exec(text);
  if (!match) return null;
  const [year, month, dayOfMonth] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < 100) return null;
  const ms = Date.UTC(year, month - 1, dayOfMonth);
  const date = new Date(ms);
  // Date.UTC lets 30 February roll over into March; only a day that comes back unchanged is real.
  if (date.getUTCMonth() !== month - 1 || date.getUTCDate() !== dayOfMonth) return null;
  return ms / MS_PER_DAY;
}
