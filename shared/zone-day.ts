import type { Day } from './days.ts';

/** Making one takes a hundred times as long as asking it. Only zones that there are come to stand here. */
const formats = new Map<string, Intl.DateTimeFormat>();

function formatOf(timeZone: string): Intl.DateTimeFormat {
  const known = formats.get(timeZone);
  if (known) return known;
  const parts = { year: 'numeric', month: '2-digit', day: '2-digit' } as const;
  const made = new Intl.DateTimeFormat('en-CA', { timeZone, ...parts });
  formats.set(timeZone, made);
  return made;
}

/**
 * The civil day that an instant falls on in a time zone. A day is not an instant: what is due "today" depends on
 * where the business is, never on the machine's own zone.
 *
 * @param atMs instant, milliseconds since 1970 UTC
 * @param timeZone IANA name; a RangeError when unknown
 * @example dayInZone(Date.UTC(2026, 10, 25, 23, 30), 'Europe/Berlin') // '2026-11-26'
 */
export function dayInZone(atMs: number, timeZone: string): Day {
  const parts = formatOf(timeZone).formatToParts(atMs);
  const part = (type: string) => parts.find((p) => p.type === type)?.value ?? '';
  return `${part('year')}-${part('month')}-${part('day')}`;
}
