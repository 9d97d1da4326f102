import type { Day } from './days.ts';

/**
 * The civil day that an instant falls on in a time zone. A day is not an instant: what is due "today" depends on
 * where the business is, never on the machine's own zone.
 *
 * @param atMs instant, milliseconds since 1970 UTC
 * @param timeZone IANA name; a RangeError when unknown
 * @example dayInZone(Date.UTC(2026, 10, 25, 23, 30), 'Europe/Berlin') // '2026-11-26'
 */
export function dayInZone(atMs: number, timeZone: string): Day {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).formatToParts(atMs);
  const part = (type: string) => parts.find((p) => p.type === type)?.value ?? '';
  return `${part('year')}-${part('month')}-${part('day')}`;
}
