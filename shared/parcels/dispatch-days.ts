import { z } from 'zod';
import { addDays, type Day, day, toEpochDay } from '../days.ts';
import { type HolidayNames, publicHolidays } from './holidays.ts';

const weekdays = z.array(z.int().min(1).max(7)).min(1).max(7);

/** From when on, how long the carrier takes, and when it works. Weekdays after ISO 8601: 1 is Monday, 7 Sunday. */
export const dispatchDaysInput = z
  .strictObject({
    from: day,
    days: z.int().min(1).max(366),
    transitDays: z.int().min(0).max(30),
    carrierWeekdays: weekdays,
    dispatchWeekdays: weekdays,
    holidays: z.strictObject({
      country: z.string().regex(/^[A-Z]{2}$/, 'must be a country as two capitals, like GB'),
      region: z.string().min(1).max(12).nullable().default(null),
    }),
    noIdleDayInTransit: z.boolean(),
  })
  .refine(({ from }) => from <= '9990-01-01', { path: ['from'], error: 'is too far ahead' });
export type DispatchDaysQuestion = z.output<typeof dispatchDaysInput>;

export interface DispatchDays {
  dates: { dispatchOn: Day; arrivesOn: Day }[];
  closed: { date: Day; why: string }[];
}

const NAMES = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const;
/** A carrier that never works two days in a row, or a year of holidays: then there is no arrival. */
const LONGEST_WAIT = 60;

/** 1 for Monday to 7 for Sunday (ISO 8601). 1970-01-01 was a Thursday. */
export const weekdayOf = (date: Day): number => ((((toEpochDay(date) + 3) % 7) + 7) % 7) + 1;
const nameOf = (date: Day) => NAMES[weekdayOf(date) - 1] ?? '';

type Rules = Pick<
  DispatchDaysQuestion,
  'transitDays' | 'carrierWeekdays' | 'dispatchWeekdays' | 'noIdleDayInTransit'
>;

/** Why the carrier does not work on a day, or null. */
function idleWhy(date: Day, { carrierWeekdays }: Rules, holidays: HolidayNames): string | null {
  const holiday = holidays.get(date);
  if (holiday !== undefined) return holiday;
  return carrierWeekdays.includes(weekdayOf(date)) ? null : nameOf(date);
}

/** Whether a parcel may start on a day: when it arrives, or why it may not. */
function tripFrom(date: Day, rules: Rules, holidays: HolidayNames): { arrivesOn: Day } | { why: string } {
  const holiday = holidays.get(date);
  if (holiday !== undefined) return { why: `holiday: ${holiday}` };
  if (!rules.carrierWeekdays.includes(weekdayOf(date)))
    return { why: `the carrier does not work on ${nameOf(date)}s` };
  if (!rules.dispatchWeekdays.includes(weekdayOf(date)))
    return { why: `${nameOf(date)} is not a day of dispatch` };
  let at = date;
  for (let [left, waited] = [rules.transitDays, 0]; left > 0; ) {
    at = addDays(at, 1);
    const idle = idleWhy(at, rules, holidays);
    if (idle === null) left -= 1;
    else if (rules.noIdleDayInTransit) return { why: `would lie idle on ${at} (${idle})` };
    else if (++waited > LONGEST_WAIT) return { why: 'would not arrive within two months' };
  }
  return { arrivesOn: at };
}

/** The same with the holidays at hand: for pages that ask for many parcels. */
export function dispatchDaysWith(
  question: Omit<DispatchDaysQuestion, 'holidays'>,
  holidays: HolidayNames,
): DispatchDays {
  const answer: DispatchDays = { dates: [], closed: [] };
  for (let i = 0; i < question.days; i += 1) {
    const date = addDays(question.from, i);
    const trip = tripFrom(date, question, holidays);
    if ('why' in trip) answer.closed.push({ date, why: trip.why });
    else answer.dates.push({ dispatchOn: date, arrivesOn: trip.arrivesOn });
  }
  return answer;
}

/** The years a question touches: the last parcel may still be on its way in the next. */
export function yearsOf({ from, days }: Pick<DispatchDaysQuestion, 'from' | 'days'>): number[] {
  const [first, last] = [from, addDays(from, days + LONGEST_WAIT + 30)].map((date) =>
    Number(date.slice(0, 4)),
  );
  return Array.from({ length: (last ?? 0) - (first ?? 0) + 1 }, (_, i) => (first ?? 0) + i);
}

/**
 * Which of the coming days a parcel may start on, when it then arrives, and why the others are closed. It travels on the
 * carrier's weekdays that are no public holidays, so many of them as `transitDays`; with `noIdleDayInTransit` it must not
 * lie over a day on which the carrier rests. Weekdays after ISO 8601: 1 is Monday.
 *
 * Errors: a country or region whose holidays are not known.
 *
 * Source: public holidays from the open data of the library date-holidays; early dispatch is common practice, no source.
 *
 * @example await dispatchDays({ from: '2026-12-21', days: 3, transitDays: 2, carrierWeekdays: [1, 2, 3, 4, 5],
 *   dispatchWeekdays: [1, 2, 3], holidays: { country: 'GB', region: null }, noIdleDayInTransit: true })
 * // Monday 21 arrives on the 23rd, Tuesday 22 on the 24th; Wednesday 23 would lie idle on Christmas Day
 */
export async function dispatchDays(question: DispatchDaysQuestion): Promise<DispatchDays> {
  return dispatchDaysWith(question, await publicHolidays(question.holidays, yearsOf(question)));
}
