import type { ComponentChildren } from 'preact';
import type { TraceFilter } from '../../shared/traces/form.ts';
import { Actions, Button } from '../layout/button.tsx';
import {
  CheckField,
  checkOf,
  ErrorSummary,
  Form,
  type FormState,
  fieldOf,
  TextAreaField,
} from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { OpenReservations, type ReservationData } from './part-orders.tsx';
import { traceHref } from './say.ts';

export type QuarantineFormProps = {
  furniture: Furniture;
  code: string;
  asked: TraceFilter;
  form: FormState;
  chosen: ReadonlySet<number>;
  /** Animals promised from the cultures of the first table and not packed yet. */
  reservations: readonly ReservationData[];
  /** Reached and listed, and how many more were too many for the list. */
  listed: readonly { id: number }[];
  notListed: number;
  /** The tables with the boxes to tick. */
  children: ComponentChildren;
};

function Reservations({
  rows,
  form,
  locale,
}: {
  rows: readonly ReservationData[];
  form: FormState;
  locale?: string;
}) {
  if (rows.length === 0) return null;
  const orders = new Set(rows.map(({ number }) => number)).size;
  return (
    <section class="not-on-list" aria-labelledby="reserved-title">
      <h2 id="reserved-title">Open reservations</h2>
      <p>
        {formatCount(orders, 'order')} {orders === 1 ? 'waits' : 'wait'} for animals of the cultures in the
        first list. Nothing is packed out of quarantine: choose other cultures on the order's page.
      </p>
      <OpenReservations rows={rows} locale={locale} />
      <CheckField
        label="Set the reservations of the ticked cultures free in the same step"
        help="Their orders become drafts again, and wait for other cultures. This is not taken back by an undo."
        {...checkOf(form, 'release')}
      />
    </section>
  );
}

function Rest({
  form,
  listed,
  notListed,
  furniture,
}: Pick<QuarantineFormProps, 'form' | 'listed' | 'notListed' | 'furniture'>) {
  if (notListed === 0) return null;
  return (
    <>
      {listed.map(({ id }) => (
        <input key={id} type="hidden" name="listed" value={id} />
      ))}
      <CheckField
        label={`And ${formatCount(notListed, 'more culture', undefined, furniture.locale)} that can have been reached, not listed above`}
        {...checkOf(form, 'rest')}
      />
    </>
  );
}

/** Many cultures put in quarantine in one step, by the owner. */
export function QuarantineForm(props: QuarantineFormProps) {
  const { furniture, code, asked, form, reservations, children } = props;
  const hidden = {
    what: asked.what,
    since: asked.since,
    seen: asked.seen,
    back: asked.back,
    sort: asked.sort,
  };
  return (
    <Form furniture={furniture} action={traceHref(code, {}, '/quarantine')} class="trace-form">
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <ErrorSummary errors={form.errors} labels={{ words: 'For the diaries' }} />
      {children}
      <Reservations rows={reservations} form={form} locale={furniture.locale} />
      <section class="not-on-list" aria-labelledby="quarantine-title">
        <h2 id="quarantine-title">Quarantine</h2>
        <p>
          The ticked cultures are put in quarantine: handled last, with tools of their own, and nothing of
          them is offered for sale. Why is written in each diary.
        </p>
        <Rest {...props} />
        <TextAreaField
          label="For the diaries"
          rows={2}
          maxLength={500}
          help="What else to look for."
          {...fieldOf(form, 'words')}
          optional
        />
        <Actions>
          <Button kind="main">Put the ticked ones in quarantine</Button>
        </Actions>
      </section>
    </Form>
  );
}
