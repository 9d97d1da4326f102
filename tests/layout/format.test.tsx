import { describe, expect, it } from 'vitest';
import {
  formatAgo,
  formatCount,
  formatDay,
  formatInTen,
  formatMoment,
  formatMoney,
  formatNumber,
  formatPercent,
  formatSpan,
} from '../../views/layout/format.ts';
import { Ago, Day, Moment, Money } from '../../views/layout/number.tsx';
import { renderPart } from '../../views/layout/render.ts';

describe('money', () => {
  // Minor units per currency: ISO 4217 (GBP and EUR 2, JPY 0, KWD 3).
  it.each([
    [1250, 'GBP', 'en-GB', '£12.50'],
    [5, 'GBP', 'en-GB', '£0.05'],
    [0, 'GBP', 'en-GB', '£0.00'],
    [-199, 'GBP', 'en-GB', '-£1.99'],
    [1250, 'JPY', 'en-GB', 'JP¥1,250'],
    [1250, 'KWD', 'en-GB', 'KWD\u00a01.250'],
    [123456, 'EUR', 'de-DE', '1.234,56\u00a0€'],
    [Number.MAX_SAFE_INTEGER, 'EUR', 'en-GB', '€90,071,992,547,409.91'],
  ])('%d of %s in %s is %s', (minor, currency, locale, words) => {
    expect(formatMoney(minor, currency, locale)).toBe(words);
  });
});

describe('shares in percent', () => {
  // A space before the sign: SI Brochure, 9th edition, 5.4.7. English locales of the platform have none.
  it.each([
    [0.05, undefined, 0, '5\u00a0%'],
    [0.0532, 'en-US', 1, '5.3\u00a0%'],
    [0.0532, 'de-DE', 1, '5,3\u00a0%'],
    [12.5, 'de-DE', 0, '1.250\u00a0%'],
    [-0.02, 'en-GB', 0, '−2\u00a0%'],
    [0, 'en-GB', 2, '0\u00a0%'],
  ])('%d in %s to %d digits is %s', (share, locale, digits, words) => {
    expect(formatPercent(share, locale, digits)).toBe(words);
  });
});

describe('days and ages', () => {
  it('are written in the locale, whatever the zone of the machine', () => {
    expect(formatDay('2026-03-09')).toBe('9 Mar 2026');
    expect(formatDay('2026-03-09', 'en-US')).toBe('Mar 9, 2026');
    // Node's locale data write it with or without the comma, by version.
    expect(formatDay('2026-03-09', 'en-GB', 'long')).toMatch(/^Monday,? 9 March 2026$/);
    expect(formatDay('sometime')).toBe('sometime');
  });

  it('show an instant by the clock of the business', () => {
    const at = Date.UTC(2026, 0, 5, 23, 30);
    expect(formatMoment(at, 'UTC')).toBe('5 Jan 2026, 23:30');
    expect(formatMoment(at, 'Europe/Berlin')).toBe('6 Jan 2026, 00:30');
  });

  it.each([
    [0, 'today'],
    [1, 'yesterday'],
    [-1, 'tomorrow'],
    [12, '12 days ago'],
    [-3, 'in 3 days'],
    [59, '59 days ago'],
    [98, '14 weeks ago'],
    [400, '13 months ago'],
    [1096, '3 years ago'],
  ])('%d days is %s', (days, words) => {
    expect(formatAgo(days)).toBe(words);
  });

  it('say a span alone', () => {
    expect(formatSpan(1)).toBe('1 day');
    expect(formatSpan(63)).toBe('9 weeks');
  });
});

describe('shares and counts', () => {
  it('say a share in tenths', () => {
    expect(formatInTen(0.68)).toBe('7 in 10');
    expect(formatInTen(0.01)).toBe('fewer than 1 in 10');
    expect(formatInTen(0.06)).toBe('1 in 10');
    expect(formatInTen(1.4)).toBe('10 in 10');
  });

  it('agree with their number', () => {
    expect(formatCount(1, 'group')).toBe('1 group');
    expect(formatCount(1200, 'group')).toBe('1,200 groups');
    expect(formatCount(0, 'colony', 'colonies')).toBe('0 colonies');
    expect(formatNumber(-12.345, 'en-GB', 1)).toBe('\u221212.3');
  });
});

describe('as elements', () => {
  it('carry what a machine reads beside what people read', () => {
    expect(renderPart(<Day iso="2026-03-09" />)).toBe('<time datetime="2026-03-09">9 Mar 2026</time>');
    expect(renderPart(<Moment at={0} timeZone="UTC" />)).toContain('datetime="1970-01-01T00:00:00.000Z"');
    expect(renderPart(<Money minor={1250} currency="GBP" />)).toContain('£12.50');
    expect(renderPart(<Ago days={2} />)).toContain('2 days ago');
  });
});
