import { type Day, toEpochDay } from '../days.ts';
import type { ClimateReading } from './drying-form.ts';
import { vpdKpa } from './vapour.ts';

/** A lid leaks a little and animals drink even in saturated air; it also keeps every span finite. */
const LEAST_VPD_KPA = 0.05;
/** A day without a reading takes the nearest one, if it is not farther away than this. */
const NEAR_DAYS = 14;
/** The days up to now that stand for those ahead. */
const RECENT_DAYS = 7;

/** The dryness of a room's air by day, and what it adds up to. */
export interface Air {
  /** What the coming days are expected to be, kPa. */
  nowKpa: number;
  /** Whether any of those days has a reading near; without one it is what the caller believed beforehand. */
  isMeasured: boolean;
  /** The deficit summed over the days from one (counted) to another (not counted), kPa days. */
  sum(from: Day, to: Day): number;
}

/** The mean deficit of each day that was read, by its number. */
function meanByDay(readings: readonly ClimateReading[]): Map<number, number> {
  const sums = new Map<number, { sum: number; count: number }>();
  for (const { date, tempC, humidityPct } of readings) {
    const at = toEpochDay(date);
    const day = sums.get(at) ?? { sum: 0, count: 0 };
    day.sum += vpdKpa(tempC, humidityPct);
    day.count += 1;
    sums.set(at, day);
  }
  return new Map([...sums].map(([at, { sum, count }]) => [at, Math.max(LEAST_VPD_KPA, sum / count)]));
}

function nearest(byDay: ReadonlyMap<number, number>, at: number): number | undefined {
  for (let away = 0; away <= NEAR_DAYS; away += 1) {
    const found = byDay.get(at - away) ?? byDay.get(at + away);
    if (found !== undefined) return found;
  }
  return undefined;
}

/**
 * The room's air from readings, day by day: a day's own mean; else the nearest reading within a fortnight; else what
 * was believed beforehand. The days ahead are expected to be like the last seven, unless they have readings (a
 * forecast) of their own.
 *
 * Units: kPa, days.
 *
 * @example airOf([{ date: '2026-11-01', tempC: 25, humidityPct: 50 }], '2026-11-01', 1).nowKpa // 1.584
 */
export function airOf(readings: readonly ClimateReading[], asOf: Day, believedKpa: number): Air {
  const byDay = meanByDay(readings);
  const today = toEpochDay(asOf);
  const recent = Array.from({ length: RECENT_DAYS }, (_, i) => nearest(byDay, today - i));
  const read = recent.filter((kpa) => kpa !== undefined);
  const nowKpa = read.length > 0 ? read.reduce((a, b) => a + b, 0) / read.length : believedKpa;
  const known = new Map<number, number>();
  const on = (at: number): number => {
    let kpa = known.get(at);
    if (kpa === undefined) {
      kpa = at > today ? (byDay.get(at) ?? nowKpa) : (nearest(byDay, at) ?? believedKpa);
      known.set(at, kpa);
    }
    return kpa;
  };
  const sum = (from: Day, to: Day) => {
    let total = 0;
    for (let at = toEpochDay(from), end = toEpochDay(to); at < end; at += 1) total += on(at);
    return total;
  };
  return { nowKpa, isMeasured: read.length > 0, sum };
}
