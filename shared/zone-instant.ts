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
 * The instant (ms UTC) at which clocks in a zone show a day and a time. An hour that is shown twice in autumn is taken
 * as one of the two; one that is left out in spring as the hour beside it.
 *
 * @example instantInZone('2026-11-25', 12 * 60, 'Europe/Berlin') // Date.UTC(2026, 10, 25, 11)
 */
export function instantInZone(day: Day, minuteOfDay: number, timeZone: string): number {
  const wanted = toEpochDay(day) * MS_PER_DAY + minuteOfDay * 60_000;
  const first = wanted - (clockAt(wanted, timeZone) - wanted);
  return first - (clockAt(first, timeZone) - wanted);
}
