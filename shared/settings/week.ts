import { addDays, type Day, toEpochDay } from '../days.ts';

type WeekInfo = { firstDay: number };
/** Newer engines answer by a method, older ones by a property. */
type WithWeek = Intl.Locale & { getWeekInfo?: () => WeekInfo; weekInfo?: WeekInfo };

const known = new Map<string, number>();

/**
 * The weekday that weeks begin on where numbers and dates are written so, after ISO 8601: 1 is Monday, 7 Sunday. From
 * this engine's tables (Unicode CLDR, weekData).
 *
 * @example firstWeekdayOf('de-DE') // 1
 * @example firstWeekdayOf('en-US') // 7
 */
export function firstWeekdayOf(locale: string): number {
  const found = known.get(locale);
  if (found !== undefined) return found;
  const asked: WithWeek = new Intl.Locale(locale);
  const first = (asked.getWeekInfo?.() ?? asked.weekInfo)?.firstDay ?? 1;
  known.set(locale, first);
  return first;
}

/**
 * The first day of the week a day lies in, for weeks that begin on a weekday (1 Monday to 7 Sunday).
 *
 * @example weekStart('2026-11-25', 1) // '2026-11-23', from a Wednesday
 * @example weekStart('2026-11-25', 7) // '2026-11-22'
 */
export function weekStart(day: Day, firstWeekday: number): Day {
  // 1970-01-01 was a Thursday: the weekday of a day, 0 for Monday.
  const weekday = (((toEpochDay(day) + 3) % 7) + 7) % 7;
  return addDays(day, -((weekday - (firstWeekday - 1) + 7) % 7));
}

/**
 * The seven weekdays (1 Monday to 7 Sunday) in the order in which a week goes.
 *
 * @example weekdaysFrom(7) // [7, 1, 2, 3, 4, 5, 6]
 */
export const weekdaysFrom = (firstWeekday: number): number[] =>
  Array.from({ length: 7 }, (_, i) => ((firstWeekday - 1 + i) % 7) + 1);
