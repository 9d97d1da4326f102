import type { DayKind, DayOutlook } from '../../shared/parcels/packing-day-form.ts';
import { classes } from '../layout/classes.ts';
import { formatDay } from '../layout/format.ts';

/** Short enough to stand under a day. */
const dayWords: Record<DayKind, string> = {
  safe: 'go',
  helped: 'with help',
  refused: 'no',
  unknown: '?',
  closed: 'closed',
  early: 'later',
};

export type DayStripProps = {
  days: readonly DayOutlook[];
  /** The day that was decided, or the best. */
  chosen: string | null;
  locale: string | undefined;
  label: string;
};

/** 'Wed 25': the month is known. */
const shortDay = (date: string, locale: string | undefined) =>
  `${formatDay(date, locale, 'weekday').split(/[\s,]/)[0]} ${Number(date.slice(8))}`;

/** What the words under the days mean, once for all strips of a page. */
export const daysKey =
  'Days: go, as it is; with help, with a pack or held at the counter; no, refused; closed, the carrier does not take it; ?, no forecast yet; later, before its day.';

/** The days ahead at a glance: what each is like for one order. */
export function DayStrip({ days, chosen, locale, label }: DayStripProps) {
  if (days.length === 0) return null;
  return (
    <ol class="day-strip" aria-label={label}>
      {days.map(({ date, kind, why }) => (
        <li
          key={date}
          class={classes('day-cell', `day-${kind}`, date === chosen && 'day-chosen')}
          title={why ?? undefined}
        >
          <span class="day-date">{shortDay(date, locale)}</span>
          <span class="day-kind">
            {dayWords[kind]}
            {date === chosen && <span class="visually-hidden"> (this day)</span>}
          </span>
        </li>
      ))}
    </ol>
  );
}
