import { describe, expect, it } from 'vitest';
import {
  currencies,
  isCurrency,
  isNumberForm,
  isTimeZone,
  likelyNumberForm,
  numberFormChoices,
  timeZones,
} from '../../shared/settings/regions.ts';

describe('time zones', () => {
  it('are grouped by their part of the world, each once', () => {
    const zones = timeZones();
    expect(zones[0]?.group).toBe('Africa');
    const all = zones.flatMap(({ options }) => options.map(({ value }) => value));
    expect(all.length).toBeGreaterThan(400);
    expect(new Set(all).size).toBe(all.length);
    for (const zone of ['Europe/Berlin', 'America/New_York', 'Australia/Lord_Howe', 'Pacific/Apia', 'UTC'])
      expect(all).toContain(zone);
    expect(all.every(isTimeZone)).toBe(true);
    const america = zones.find(({ group }) => group === 'America');
    expect(america?.options.find(({ value }) => value === 'America/New_York')?.label).toBe('New York');
  });

  it('are known by name only', () => {
    for (const text of ['Europe/Nowhere', '+01:00', '', '-05', 'Europe'])
      expect(isTimeZone(text)).toBe(false);
    expect(isTimeZone('Asia/Calcutta')).toBe(true);
  });
});

describe('currencies', () => {
  it('have their names and codes (ISO 4217)', () => {
    const list = currencies();
    expect(list[0]).toEqual({ value: 'AFN', label: 'Afghan Afghani (AFN)' });
    for (const value of ['EUR', 'USD', 'GBP', 'JPY', 'CHF', 'KWD']) {
      expect(isCurrency(value)).toBe(true);
      expect(list.some((currency) => currency.value === value)).toBe(true);
    }
    for (const text of ['EURO', 'eur', 'XYZ', '']) expect(isCurrency(text)).toBe(false);
  });
});

// How countries write numbers: the Unicode CLDR, as this engine carries it.
describe('ways to write numbers and dates', () => {
  it('are offered once each, by example, the chosen one among them', () => {
    const choices = numberFormChoices('en-IN');
    const labels = choices.map(({ label }) => label);
    expect(new Set(labels).size).toBe(labels.length);
    expect(choices.some(({ value }) => value === 'en-IN')).toBe(true);
    expect(choices[0]).toEqual({ value: 'en-GB', label: '12,345.6; 29 Mar 2027, 14:05' });
    expect(choices.every(({ value }) => isNumberForm(value))).toBe(true);
  });

  it.each([
    ['US', 'en-US'],
    ['GB', 'en-GB'],
    ['DE', 'en-AT'],
    ['FR', 'en-SE'],
    ['CH', 'en-CH'],
    ['NL', 'en-AT'],
  ])('in %s are likely those of %s', (country, locale) => {
    expect(likelyNumberForm(country)).toBe(locale);
  });
});
