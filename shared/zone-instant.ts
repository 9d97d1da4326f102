import { type Day, toEpochDay } from './days.ts';

const MS_PER_DAY = 86_400_000;

/** What a clock in the zone shows at an instant, as if it were UTC. */
function clockAt(atMs: number, timeZone: string): number {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  }).formatToParts(atMs);
  const part = (type: string) => Number(parts.find((p) => p.type === type)?.value ?? 0);
  return Date.UTC(part('year'), part('month') - 1, part('day'), part('hour'), part('minute'), part('second'));
}

/**
 * The instant (ms UTC) at which clocks in a zone show a day and a time. Of an hour that is shown twice in autumn it is
 * the first; for one that is left out in spring it is what a clock shows that was not put on (RFC 5545, section 3.3.5).
 *
 * @example instantInZone('2026-11-25', 12 * 60, 'Europe/Berlin') // Date.UTC(2026, 10, 25, 11)
 * @example instantInZone('2026-10-25', 150, 'Europe/Berlin') // Date.UTC(2026, 9, 25, 0, 30), the first 02:30
 */
export function instantInZone(day: Day, minuteOfDay: number, timeZone: string): number {
  const wanted = toEpochDay(day) * MS_PER_DAY + minuteOfDay * 60_000;
  const aheadAt = (atMs: number) => clockAt(atMs, timeZone) - atMs;
  const before = wanted - aheadAt(wanted - MS_PER_DAY);
  const after = wanted - aheadAt(wanted + MS_PER_DAY);
  return clockAt(before, timeZone) !== wanted && clockAt(after, timeZone) === wanted ? after : before;
}
