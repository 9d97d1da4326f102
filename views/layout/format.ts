/** Numbers, money, days and ages as people read them. Pure: the locale is an argument. */

export const defaultLocale = 'en-GB';

const numberFormats = new Map<string, Intl.NumberFormat>();

/** Making an Intl format is slow and a table needs thousands of numbers, so each is made once. */
function numberFormat(locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  let format = numberFormats.get(key);
  if (!format) {
    format = new Intl.NumberFormat(locale, options);
    numberFormats.set(key, format);
  }
  return format;
}

/** 1234.5 -> "1,234.5" (at most `digits` after the point, 0 when left out). */
export function formatNumber(value: number, locale = defaultLocale, digits = 0): string {
  return numberFormat(locale, { maximumFractionDigits: digits }).format(value).replace('-', '\u2212');
}

/**
 * 0.0532 -> "5.3 %" (at most `digits` after the point, 0 when left out). The sign is apart from its number, whatever
 * the locale's own habit (SI Brochure, 9th edition, 5.4.7), by a no-break space, as other units are.
 */
export function formatPercent(share: number, locale = defaultLocale, digits = 0): string {
  return `${formatNumber(share * 100, locale, digits)}\u00a0%`;
}

/** (1250, 'GBP') -> "£12.50"; the minor unit is the currency's own (none for JPY). */
export function formatMoney(minor: number, currency: string, locale = defaultLocale): string {
  const format = numberFormat(locale, { style: 'currency', currency });
  const digits = format.resolvedOptions().maximumFractionDigits ?? 2;
  const sign = minor < 0 ? '-' : '';
  const padded = Math.abs(minor)
    .toString()
    .padStart(digits + 1, '0');
  const whole = padded.slice(0, padded.length - digits);
  const decimal = digits === 0 ? whole : `${whole}.${padded.slice(padded.length - digits)}`;
  return format.format(`${sign}${decimal}` as `${number}`);
}

export type DayForm = 'short' | 'long' | 'letter' | 'weekday' | 'month-day';

const dayForms: Record<DayForm, Intl.DateTimeFormatOptions> = {
  short: { day: 'numeric', month: 'short', year: 'numeric' },
  long: { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' },
  letter: { day: 'numeric', month: 'long', year: 'numeric' },
  weekday: { weekday: 'short', day: 'numeric', month: 'short' },
  'month-day': { day: 'numeric', month: 'short' },
};

const dateFormats = new Map<string, Intl.DateTimeFormat>();

function dateFormat(locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  let format = dateFormats.get(key);
  if (!format) {
    format = new Intl.DateTimeFormat(locale, options);
    dateFormats.set(key, format);
  }
  return format;
}

/** '2026-03-09' -> "9 Mar 2026". A day has no time zone; what is no day comes back as it is. */
export function formatDay(iso: string, locale = defaultLocale, form: DayForm = 'short'): string {
  const at = Date.parse(`${iso}T00:00:00Z`);
  return Number.isNaN(at) ? iso : dateFormat(locale, { ...dayForms[form], timeZone: 'UTC' }).format(at);
}

/** An instant (ms UTC) in the business's time zone: "9 Mar 2026, 14:05". */
export function formatMoment(at: number, timeZone: string, locale = defaultLocale): string {
  return dateFormat(locale, { ...dayForms.short, hour: '2-digit', minute: '2-digit', timeZone }).format(at);
}

/** The time of an instant (ms UTC) in the business's time zone: "14:05". */
export function formatClock(at: number, timeZone: string, locale = defaultLocale): string {
  return dateFormat(locale, { hour: '2-digit', minute: '2-digit', timeZone }).format(at);
}

/** 0 -> "today", 1 -> "yesterday", 12 -> "12 days ago", 100 -> "14 weeks ago", -3 -> "in 3 days". */
export function formatAgo(days: number): string {
  const size = Math.abs(Math.round(days));
  if (size === 0) return 'today';
  if (days > 0 && size === 1) return 'yesterday';
  if (days < 0 && size === 1) return 'tomorrow';
  const words = formatSpan(size);
  return days > 0 ? `${words} ago` : `in ${words}`;
}

/** A length of time in days, as people say it: 12 -> "12 days", 63 -> "9 weeks", 800 -> "26 months". */
export function formatSpan(days: number): string {
  const size = Math.abs(Math.round(days));
  if (size < 60) return size === 1 ? '1 day' : `${size} days`;
  if (size < 365) return `${Math.round(size / 7)} weeks`;
  const months = Math.round(size / 30.44);
  return months < 24 ? `${months} months` : `${formatNumber(size / 365.25, 'en-GB', 1)} years`;
}

/** A share as people say it: 0.68 -> "7 in 10"; beyond the ends "fewer than 1 in 10", "10 in 10". */
export function formatInTen(share: number): string {
  if (share < 0.05) return 'fewer than 1 in 10';
  return `${Math.min(10, Math.max(1, Math.round(share * 10)))} in 10`;
}

/** (2, 'group') -> "2 groups"; (1, 'colony', 'colonies') -> "1 colony". */
export function formatCount(count: number, one: string, many = `${one}s`, locale = defaultLocale): string {
  return `${formatNumber(count, locale)} ${count === 1 ? one : many}`;
}
