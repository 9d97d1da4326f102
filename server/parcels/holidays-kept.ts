import { CalculationError } from '../../shared/faults.ts';
import { type HolidayNames, type HolidayPlace, publicHolidays } from '../../shared/parcels/holidays.ts';

const kept = new Map<string, HolidayNames>();
const mostKept = 40;

/**
 * Public holidays of some years, worked out once: the library takes longer than all parcels of a day. A place it does not
 * know comes back as the words for it.
 */
export async function holidaysOf(
  place: HolidayPlace,
  years: readonly number[],
): Promise<HolidayNames | { unknown: string }> {
  const key = `${place.country} ${place.region ?? ''} ${years.join(' ')}`;
  const known = kept.get(key);
  if (known) return known;
  try {
    const names = await publicHolidays(place, years);
    if (kept.size >= mostKept) kept.clear();
    kept.set(key, names);
    return names;
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    return { unknown: error.message };
  }
}
