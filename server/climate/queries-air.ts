import type { ClimateReading } from '../../shared/climate/drying-form.ts';
import { saturationKpa } from '../../shared/climate/vapour.ts';
import { addDays } from '../../shared/days.ts';
import type { Db } from '../plumbing/open-database.ts';
import { measuredAround, placesById } from './queries-places.ts';
import { type ClimateDay, climateDaysSince, measuredPlaces } from './queries-readings.ts';

const rememberedDays = 240;

/** The air of rooms day by day, each place read once. */
export function airReader(db: Db, today: string) {
  const since = addDays(today, -rememberedDays);
  const measured = measuredPlaces(db, since);
  const all = measured.size > 0 ? placesById(db) : new Map();
  const read = new Map<number, ClimateDay[]>();
  return (placeId: number | null): ClimateDay[] => {
    const at = measuredAround(all, measured, placeId);
    if (at === null) return [];
    const before = read.get(at) ?? climateDaysSince(db, at, since);
    read.set(at, before);
    return before;
  };
}

/**
 * The days as readings with the same deficit: the mean of a day's deficits is not that of its mean temperature and
 * humidity, so the humidity is the one that gives it.
 */
export function asReadings(days: readonly ClimateDay[]): ClimateReading[] {
  return days.flatMap(({ onDay, meanC, meanVpdKpa }) => {
    if (meanVpdKpa === null) return [];
    const humidityPct = 100 * (1 - meanVpdKpa / saturationKpa(meanC));
    return [{ date: onDay, tempC: meanC, humidityPct: Math.min(100, Math.max(0, humidityPct)) }];
  });
}
