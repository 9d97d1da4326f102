import { Actions, PostButton } from '../layout/button.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';

export type OwnCalendarProps = {
  furniture: Furniture;
  /** The calendar there is; null for none. */
  calendar: { madeAt: number; usedAt: number | null } | null;
  timeZone: string;
  locale: string;
};

/** The private calendar of whoever is signed in. */
export function OwnCalendar({ furniture, calendar, timeZone, locale }: OwnCalendarProps) {
  return (
    <section aria-labelledby="calendar-title">
      <h2 id="calendar-title">Calendar</h2>
      <p>
        What is due in each room, planned splits and packing days, for the calendar of your phone. No customer
        is named in it.
      </p>
      {calendar && (
        <p>
          Your address was made on <Moment at={calendar.madeAt} timeZone={timeZone} locale={locale} />
          {calendar.usedAt === null ? (
            ' and was never asked for.'
          ) : (
            <>
              {' '}
              and last asked for at about <Moment at={calendar.usedAt} timeZone={timeZone} locale={locale} />.
            </>
          )}
        </p>
      )}
      <Actions>
        <PostButton
          furniture={furniture}
          action="/account/calendar"
          label={calendar ? 'Make a new address' : 'Make an address'}
        />
        {calendar && (
          <PostButton furniture={furniture} action="/account/calendar/stop" label="Stop it" kind="quiet" />
        )}
      </Actions>
      {calendar && <p class="quiet">A new address stops the one before.</p>}
    </section>
  );
}
