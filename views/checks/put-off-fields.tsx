import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Field, type FormState, fieldOf } from '../layout/form.tsx';

export const putOffLabels = { days: 'For how long', reason: 'Why' };

/** Why something waits and for how many days, with the buttons: the same whatever waits. */
export function PutOffFields(props: { form: FormState; examples: string; back?: string }) {
  const { form, examples, back = '/round' } = props;
  return (
    <>
      <Field
        label={putOffLabels.reason}
        required
        maxLength={200}
        help={`Whoever comes next reads it: ${examples}.`}
        {...fieldOf(form, 'reason')}
      />
      <Field
        label={putOffLabels.days}
        inputMode="numeric"
        size="short"
        unit="days"
        help="1: it is on the round again tomorrow."
        {...fieldOf(form, 'days')}
      />
      <Actions>
        <Button kind="main">Put it off</Button>
        <LinkButton href={back}>Leave</LinkButton>
      </Actions>
    </>
  );
}
