import { z } from 'zod';
import { addDays, type Day } from '../days.ts';
import { typedNumber } from '../settings/typed-number.ts';

export type ArrivalHabits = {
  /** How soon after delivery customers are asked to write. */
  askWithinHours: number;
  /** From dispatch to the customer's door, as a rule. */
  usualTransitDays: number;
  /** Days after the usual day of arrival on which a report is still taken. */
  reportDays: number;
  /** How long an order's address opens its page, from when it was made or the order's day of dispatch. */
  linkDays: number;
};

/** Asked for within two hours, taken for two days more: common practice, no source. */
export const firstArrivalHabits: ArrivalHabits = {
  askWithinHours: 2,
  usualTransitDays: 2,
  reportDays: 2,
  linkDays: 90,
};

const days = (min: number, max: number) => typedNumber({ min, max, whole: true });

export const arrivalHabitsForm = z.object({
  askWithinHours: days(1, 48),
  usualTransitDays: days(0, 30),
  reportDays: days(0, 30),
  linkDays: days(7, 365),
});

/**
 * Days that a parcel may be on its way: as a rule, or by a computed trip that is longer.
 *
 * @example daysOnWay(firstArrivalHabits, 74) // 4
 */
export const daysOnWay = (
  { usualTransitDays }: Pick<ArrivalHabits, 'usualTransitDays'>,
  transitHours = 0,
): number => Math.max(usualTransitDays, Math.ceil(transitHours / 24));

/**
 * The last civil day (at the business) on which a customer may report how a parcel of that day arrived. Nobody tells us
 * when a parcel arrives, so the days it may take are reckoned from the day it left; a computed trip that is longer than
 * usual counts instead.
 *
 * @example lastReportDay('2026-11-24', firstArrivalHabits) // '2026-11-28'
 * @example lastReportDay('2026-11-24', firstArrivalHabits, 74) // '2026-11-30'
 */
export function lastReportDay(
  sentOn: Day,
  { usualTransitDays, reportDays }: Pick<ArrivalHabits, 'usualTransitDays' | 'reportDays'>,
  transitHours = 0,
): Day {
  return addDays(sentOn, daysOnWay({ usualTransitDays }, transitHours) + reportDays);
}
