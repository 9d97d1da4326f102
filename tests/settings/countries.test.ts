import { describe, expect, it } from 'vitest';
import { countries, countryCodes, countryName, isCountryCode } from '../../shared/settings/countries.ts';

describe('countries', () => {
  // ISO 3166-1 has 249 officially assigned entries (ISO Online Browsing Platform, country codes).
  it('lists the 249 assigned codes once each, all with a name', () => {
    expect(countryCodes).toHaveLength(249);
    expect(new Set(countryCodes).size).toBe(249);
    for (const code of countryCodes) {
      expect(code).toMatch(/^[A-Z]{2}$/);
      expect(countryName(code)).not.toBe(code);
    }
  });

  it('names and sorts them', () => {
    expect(countries()[0]).toEqual({ code: 'AF', name: 'Afghanistan' });
    expect(countryName('DE')).toBe('Germany');
    expect(countries()).toHaveLength(249);
  });

  it('knows what is no country', () => {
    expect(isCountryCode('DE')).toBe(true);
    for (const text of ['de', 'EU', 'ZZ', 'XX', '', 'Germany']) expect(isCountryCode(text)).toBe(false);
    expect(countryName('ZZ')).toBe('ZZ');
  });
});
