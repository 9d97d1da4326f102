import { isCountryCode } from './countries.ts';
import { isTimeZone, type Named } from './regions.ts';

/** Older engines have the list as a property, newer ones as a method. */
type WithZones = { timeZones?: string[]; getTimeZones?: () => string[] };

function zonesOf(country: string): string[] {
  const locale: Intl.Locale & WithZones = new Intl.Locale(`und-${country}`);
  return (locale.getTimeZones?.() ?? locale.timeZones ?? []).filter(isTimeZone);
}

/** Where several towns keep the same time, the one that most people know (common practice, no source). */
const wellKnown = new Set(
  (
    'New_York Chicago Denver Los_Angeles Anchorage Toronto Winnipeg Edmonton Vancouver Halifax Regina Whitehorse ' +
    'Mexico_City Cancun Tijuana Hermosillo Sao_Paulo Manaus Rio_Branco Buenos_Aires Santiago Sydney ' +
    'Brisbane Moscow Samara Yekaterinburg Omsk Krasnoyarsk Irkutsk Yakutsk Vladivostok Magadan Kamchatka Berlin Madrid ' +
    'Nicosia Jakarta Tashkent Almaty Majuro Kuala_Lumpur Kiev Kyiv Port_Moresby Ulaanbaatar Tarawa McMurdo Auckland'
  ).split(' '),
);

const townOf = (zone: string): string => zone.slice(zone.lastIndexOf('/') + 1);

/** Minutes east of Greenwich in the middle of each month. */
function offsetsIn(zone: string, year: number): number[] {
  const clock = new Intl.DateTimeFormat('en-US', { timeZone: zone, timeZoneName: 'longOffset' });
  return Array.from({ length: 12 }, (_, month) => {
    const parts = clock.formatToParts(Date.UTC(year, month, 15, 12));
    const name = parts.find(({ type }) => type === 'timeZoneName')?.value ?? '';
    const [, sign, hours, minutes] = /([+-])(\d{2}):(\d{2})/.exec(name) ?? [];
    return (sign === '-' ? -1 : 1) * (Number(hours ?? 0) * 60 + Number(minutes ?? 0));
  });
}

/** A clock's name as people say it, such as Eastern Time; null where it only repeats the distance to Greenwich. */
function spokenName(zone: string, year: number): string | null {
  const parts = new Intl.DateTimeFormat('en-US', {
    timeZone: zone,
    timeZoneName: 'longGeneric',
  }).formatToParts(Date.UTC(year, 0, 15, 12));
  const name = parts.find(({ type }) => type === 'timeZoneName')?.value ?? '';
  return name === '' || /GMT|UTC|\d/.test(name) ? null : name;
}

/**
 * The different clocks of a country in a year, from east to west: zones that keep the same time all year are one,
 * by its best known town. From the IANA time zone database, as this engine carries it.
 *
 * @example clocksOf('DE', 2026) // [{ value: 'Europe/Berlin', label: 'Berlin (Central European Time)' }]
 */
export function clocksOf(country: string, year: number): Named[] {
  if (!isCountryCode(country)) return [];
  const byOffsets = new Map<string, { zone: string; offsets: number[] }>();
  for (const zone of zonesOf(country)) {
    const offsets = offsetsIn(zone, year);
    const key = offsets.join();
    const other = byOffsets.get(key);
    const isBetter = other && wellKnown.has(townOf(zone)) && !wellKnown.has(townOf(other.zone));
    if (!other || isBetter) byOffsets.set(key, { zone, offsets });
  }
  return [...byOffsets.values()]
    .sort((a, b) => (b.offsets[0] ?? 0) - (a.offsets[0] ?? 0))
    .map(({ zone }) => {
      const town = townOf(zone).replaceAll('_', ' ');
      const name = spokenName(zone, year);
      return { value: zone, label: name ? `${town} (${name})` : town };
    });
}
