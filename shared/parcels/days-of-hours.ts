import { type Day, fromEpochDay } from '../days.ts';

const MS_PER_HOUR = 3_600_000;
/** Farther apart than this, the low or the high of a day may lie between two values. */
const WIDEST_GAP_H = 6;
const HOURS_PER_DAY = 24;

/**
 * The civil day at a longitude by the sun: a place's zone is not known from its coordinates, and for the low and the high
 * of a day the sun matters more. Degrees east, 15 to the hour.
 *
 * @example sunDayOf(Date.UTC(2026, 10, 25, 23), 30) // '2026-11-26'
 */
export function sunDayOf(at: number, longitude: number): Day {
  const hours = Math.round(longitude / 15);
  return fromEpochDay(Math.floor((at + hours * MS_PER_HOUR) / (HOURS_PER_DAY * MS_PER_HOUR)));
}

export interface Low {
  date: Day;
  minC: number;
  maxC: number;
}

/**
 * The lows and highs of the days that a row of temperatures covers wholly: from its first hours to its last, without a
 * gap of more than six hours. Days at either end of the row that are only begun are left out.
 *
 * Units: instants in milliseconds UTC, degrees Celsius, degrees east.
 *
 * @example // four values a day, at 0, 6, 12 and 18 o'clock, and the next midnight: the low and high of that day
 */
export function daysOfHours(hours: readonly { at: number; tempC: number }[], longitude: number): Low[] {
  const sorted = [...hours].sort((a, b) => a.at - b.at);
  const days = new Map<Day, { temps: number[]; gapH: number; firstH: number; lastH: number }>();
  const offset = Math.round(longitude / 15);
  for (const [i, { at, tempC }] of sorted.entries()) {
    const date = sunDayOf(at, longitude);
    const hour = (((at / MS_PER_HOUR + offset) % HOURS_PER_DAY) + HOURS_PER_DAY) % HOURS_PER_DAY;
    const own = days.get(date) ?? { temps: [], gapH: 0, firstH: hour, lastH: hour };
    const before = sorted[i - 1];
    if (own.temps.length > 0 && before) own.gapH = Math.max(own.gapH, (at - before.at) / MS_PER_HOUR);
    own.temps.push(tempC);
    own.lastH = hour;
    days.set(date, own);
  }
  return [...days].flatMap(([date, { temps, gapH, firstH, lastH }]) => {
    const isWhole = firstH < WIDEST_GAP_H && lastH >= HOURS_PER_DAY - WIDEST_GAP_H && gapH <= WIDEST_GAP_H;
    return isWhole ? [{ date, minC: Math.min(...temps), maxC: Math.max(...temps) }] : [];
  });
}
