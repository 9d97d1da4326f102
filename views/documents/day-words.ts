const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

/**
 * A day string as the papers say it: `Wednesday 11 November 2026`, short `Wed 11 Nov 2026`; the month goes first for
 * readers in the United States. Anything that is not a day is shown as it stands.
 */
export function dayWords(day: string, locale: string, length: 'long' | 'short' = 'long'): string {
  const [, year, month, date] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day) ?? [];
  const name = MONTHS[Number(month) - 1];
  if (!year || !name) return day;
  const weekday = DAYS[new Date(Date.UTC(Number(year), Number(month) - 1, Number(date))).getUTCDay()] ?? '';
  const cut = (word: string) => (length === 'short' ? word.slice(0, 3) : word);
  const number = String(Number(date));
  return locale === 'en-US'
    ? `${cut(weekday)}, ${cut(name)} ${number}, ${year}`
    : `${cut(weekday)} ${number} ${cut(name)} ${year}`;
}
