/**
 * The time of day at an instant in a time zone, HH:MM.
 *
 * @example timeInZone(Date.UTC(2026, 10, 25, 11, 5), 'Europe/Berlin') // '12:05'
 */
export function timeInZone(atMs: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).format(atMs);
}
