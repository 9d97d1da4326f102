import { addDays, type Day } from '../days.ts';
import { CalculationError } from '../faults.ts';

/** Which public holidays count: ISO 3166-1 country, and the library's code of a part of it (ENG, BY), or null. */
export interface HolidayPlace {
  country: string;
  region: string | null;
}

/** A public holiday by its day. */
export type HolidayNames = ReadonlyMap<Day, string>;

const MS_PER_DAY = 86_400_000;

/**
 * The public holidays of some years, with their names in English where there is one; a holiday of several days has a name
 * on each. Days in lieu are holidays too. Loads a library of a few megabytes when it is first asked.
 *
 * Errors: a country or region the library does not know.
 *
 * Source: the open data of the library date-holidays.
 *
 * @example (await publicHolidays({ country: 'GB', region: null }, [2026])).get('2026-12-28') // 'Boxing Day (substitute day)'
 */
export async function publicHolidays(
  { country, region }: HolidayPlace,
  years: readonly number[],
): Promise<HolidayNames> {
  const { default: Holidays } = await import('date-holidays');
  const countries = new Holidays().getCountries();
  if (!(country in countries))
    throw new CalculationError('is no country whose holidays are known', 'holidays.country');
  const regions = new Holidays().getStates(country) ?? {};
  if (region !== null && !(region in regions))
    throw new CalculationError(
      `is no part of ${country} whose holidays are known${Object.keys(regions).length === 0 ? '' : `: ${Object.keys(regions).join(', ')}`}`,
      'holidays.region',
    );
  const options = { types: ['public' as const], languages: ['en'] };
  const book = region === null ? new Holidays(country, options) : new Holidays(country, region, options);
  const names = new Map<Day, string>();
  for (const year of years)
    for (const { date, start, end, name } of book.getHolidays(year)) {
      const days = Math.max(1, Math.round((end.getTime() - start.getTime()) / MS_PER_DAY));
      for (let i = 0; i < days; i += 1) {
        const onDay = addDays(date.slice(0, 10), i);
        names.set(onDay, names.has(onDay) ? `${names.get(onDay)}, ${name}` : name);
      }
    }
  return names;
}
