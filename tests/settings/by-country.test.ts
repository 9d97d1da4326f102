import { describe, expect, it } from 'vitest';
import { usualIn } from '../../shared/settings/by-country.ts';
import { clocksOf } from '../../shared/settings/clocks.ts';
import { countryCodes } from '../../shared/settings/countries.ts';
import { isTimeZone } from '../../shared/settings/regions.ts';

describe('what is usual in a country', () => {
  // ISO 4217, list one (currencies); Unicode CLDR (measurementSystem, paperSize), from memory.
  it.each([
    ['US', 'USD', 'us', 'Letter'],
    ['CA', 'CAD', 'metric', 'Letter'],
    ['DE', 'EUR', 'metric', 'A4'],
    ['BG', 'EUR', 'metric', 'A4'],
    ['CH', 'CHF', 'metric', 'A4'],
    ['PR', 'USD', 'us', 'Letter'],
    ['BT', 'BTN', 'metric', 'A4'],
    ['AQ', null, 'metric', 'A4'],
  ])('%s: %s, %s, %s', (country, currency, units, paper) => {
    expect(usualIn(country)).toEqual({ currency, units, paper });
  });

  it('knows a currency nearly everywhere', () => {
    const without = countryCodes.filter((country) => usualIn(country).currency === null);
    // CW and SX: the guilder of 2025 (XCG), which older engines do not list.
    expect(without.filter((country) => !['AQ', 'CW', 'PS', 'SX', 'ZW'].includes(country))).toEqual([]);
  });
});

describe('the clocks of a country', () => {
  // IANA time zone database, zone1970.tab, as the engine carries it.
  it('are one where all its towns keep the same time', () => {
    expect(clocksOf('DE', 2026)).toEqual([
      { value: 'Europe/Berlin', label: 'Berlin (Central European Time)' },
    ]);
    expect(clocksOf('CY', 2026).map(({ value }) => value)).toEqual(['Asia/Nicosia']);
    expect(clocksOf('AR', 2026)[0]?.label).toContain('Buenos Aires');
  });

  it('are each named once by a town that people know, from east to west', () => {
    const towns = clocksOf('US', 2026).map(({ label }) => label.replace(/ \(.*/, ''));
    expect(towns).toEqual([
      'New York',
      'Chicago',
      'Denver',
      'Phoenix',
      'Los Angeles',
      'Anchorage',
      'Adak',
      'Honolulu',
    ]);
    expect(clocksOf('ES', 2026).map(({ value }) => value)).toEqual(['Europe/Madrid', 'Atlantic/Canary']);
  });

  it('are zones to use, and none for what is no country', () => {
    for (const country of ['CA', 'AU', 'BR', 'RU', 'MX', 'PT'])
      for (const { value } of clocksOf(country, 2026)) expect(isTimeZone(value)).toBe(true);
    expect(clocksOf('XX', 2026)).toEqual([]);
  });
});
