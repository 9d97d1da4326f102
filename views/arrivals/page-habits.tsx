import { firstArrivalHabits as first } from '../../shared/arrivals/habits.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

const labels = {
  askWithinHours: 'Asked for within',
  usualTransitDays: 'A parcel is on its way for',
  reportDays: 'Taken for',
  linkDays: 'A customer’s page stays open for',
};

/** When customers may say how their animals arrived. */
export function ArrivalHabitsPage({ furniture, form }: { furniture: Furniture; form: FormState }) {
  return (
    <Shell
      furniture={furniture}
      title="Arrivals"
      purpose="Each customer can say on a page of their own how the animals arrived. The page says until when."
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
    >
      <Form furniture={furniture} action="/settings/arrivals">
        <FilledFrom form={form} words={labels} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <Field
          label={labels.askWithinHours}
          inputMode="numeric"
          size="short"
          unit="hours of delivery"
          required
          help={`Ours: ${first.askWithinHours} (common practice, no source). Later reports are taken all the same.`}
          {...fieldOf(form, 'askWithinHours')}
        />
        <Field
          label={labels.usualTransitDays}
          inputMode="numeric"
          size="short"
          unit="days"
          required
          help="Nobody tells this service when a parcel arrives, so the days are reckoned from the day it left. Where a longer trip was worked out for an order, that counts."
          {...fieldOf(form, 'usualTransitDays')}
        />
        <Field
          label={labels.reportDays}
          inputMode="numeric"
          size="short"
          unit="days more"
          required
          help={`Ours: ${first.reportDays} (common practice, no source). Until then a report can also be corrected.`}
          {...fieldOf(form, 'reportDays')}
        />
        <Field
          label={labels.linkDays}
          inputMode="numeric"
          size="short"
          unit="days"
          required
          help="From the order’s day of dispatch. For addresses that are made from now on."
          {...fieldOf(form, 'linkDays')}
        />
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/settings">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
