import type { UnitSystem } from '../../shared/settings/units.ts';
import { exactTemp } from '../climate/say.ts';
import { formatCount } from '../layout/format.ts';

const MS_PER_HOUR = 3_600_000;
/** Older than a day, a forecast is worth a second look. */
export const STALE_H = 24;

export const hoursOld = (at: number, now: number): number => Math.max(0, (now - at) / MS_PER_HOUR);

/** How old a forecast is, in words. */
export function ageWords(at: number, now: number): string {
  const hours = hoursOld(at, now);
  if (hours < 1) return 'less than an hour old';
  if (hours < 48) return `${formatCount(Math.floor(hours), 'hour')} old`;
  return `${formatCount(Math.floor(hours / 24), 'day')} old`;
}

/** A day's low and high: '2 to 9 °C'. */
export function lowToHigh(minC: number, maxC: number, units: UnitSystem, locale?: string): string {
  const low = exactTemp(minC, units, locale).replace(/\u00a0°[CF]$/, '');
  return `${low} to ${exactTemp(maxC, units, locale)}`;
}
