import { firstKeptDays, LEAST_KEPT_DAYS, MOST_KEPT_DAYS } from '../../shared/climate/keeping.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day, Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';

export type KeepingPageProps = {
  furniture: Furniture;
  timeZone: string;
  /** As it is kept now, whatever the form says. */
  days: number;
  /** Readings of the days before this one go. */
  keptFrom: string;
  /** Single readings that are older. */
  older: number;
  /** Nothing goes before; null where it may go now, or nothing is set yet. */
  waitsUntil: number | null;
  gone: { readings: number; days: number };
  form: FormState;
};

const labels = { days: 'Single readings are kept for' };

function Concerned({ furniture, older, keptFrom, waitsUntil, timeZone }: KeepingPageProps) {
  const { locale } = furniture;
  if (older === 0)
    return (
      <>
        none: nothing is older than <Day iso={keptFrom} locale={locale} />
      </>
    );
  return (
    <>
      {formatCount(older, 'reading', 'readings', locale)} from before <Day iso={keptFrom} locale={locale} />,{' '}
      {waitsUntil === null ? (
        'a few thousand at a time'
      ) : (
        <>
          from <Moment at={waitsUntil} timeZone={timeZone} locale={locale} /> on
        </>
      )}
    </>
  );
}

/** For how long single readings of the air are kept, and what that concerns. */
export function KeepingPage(props: KeepingPageProps) {
  const { furniture, gone, form } = props;
  const { locale } = furniture;
  return (
    <Shell
      furniture={furniture}
      title="Readings of the air"
      purpose="Old single readings are thinned; what each day came to is kept for good."
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
    >
      <Facts
        items={[
          { term: 'Will be thinned', value: <Concerned {...props} /> },
          {
            term: 'Thinned so far',
            value:
              gone.readings === 0
                ? 'none'
                : `${formatCount(gone.readings, 'reading', 'readings', locale)} of ${formatCount(gone.days, 'day', 'days', locale)} at a place`,
          },
          {
            term: 'Always kept',
            value:
              'the lowest, mean and highest temperature of each day, its mean humidity and how dry its air was',
          },
        ]}
      />
      <p>
        When cultures dry and when broods hatch is worked out from the days, so nothing of that changes, and
        charts of thirty days and of a year stay as they are. A day that is thinned takes no more readings.
        Take everything out on the page <a href="/records">Records</a> first, if you want to keep the single
        ones elsewhere.
      </p>
      <Form furniture={furniture} action="/settings/readings">
        <FilledFrom form={form} words={labels} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <Field
          label={labels.days}
          inputMode="numeric"
          size="short"
          unit="days"
          required
          help={`${LEAST_KEPT_DAYS} to ${formatNumber(MOST_KEPT_DAYS, locale)}; ours: ${firstKeptDays} (common practice, no source). For a day after a change nothing is thinned, so that a slip can be mended.`}
          {...fieldOf(form, 'days')}
        />
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/settings">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
