import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import type { StartData } from './part-starts.tsx';
import { startWords } from './say-round.ts';

const labels = { days: 'For how long', reason: 'Why' };

/** Leaving a start of feeder cultures for another day, with the reason that whoever comes next will read. */
export function PutOffStartPage(props: { furniture: Furniture; start: StartData; form: FormState }) {
  const { furniture, start, form } = props;
  return (
    <Shell
      furniture={furniture}
      title={`Put off: ${startWords(start).toLowerCase()}`}
      purpose="The weeks that run short stay on the feeder plan."
      breadcrumbs={[{ href: '/round', label: 'Round' }]}
    >
      <Form furniture={furniture} action={`/round/starts/${start.feederId}/put-off`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <Field
          label={labels.reason}
          required
          maxLength={200}
          help="Whoever comes next reads it: no jars left, medium comes on Friday."
          {...fieldOf(form, 'reason')}
        />
        <Field
          label={labels.days}
          inputMode="numeric"
          size="short"
          unit="days"
          help="1: it is on the round again tomorrow."
          {...fieldOf(form, 'days')}
        />
        <Actions>
          <Button kind="main">Put it off</Button>
          <LinkButton href="/round">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
