import {
  deadField,
  longestNote,
  missingField,
  noteField,
  type ReportFault,
} from '../../shared/arrivals/report-form.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { ErrorSummary, Field, FieldSet, Form, type FormState, TextAreaField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

type Sent = { speciesId: number; scientificName: string; animals: number };

export type ToldPageProps = {
  furniture: Furniture;
  number: number;
  sent: readonly Sent[];
  values: Record<string, string>;
  faults: ReadonlyMap<string, ReportFault>;
  isEnough: boolean;
};

const words: Record<ReportFault, (sent: Sent | undefined) => string> = {
  wholeNumber: () => 'Write a whole number, or leave it empty.',
  tooMany: (sent) => `There were ${sent?.animals ?? 0} in the box.`,
  nothingWrong: () => 'Write how many are dead or missing, or say above that all are well.',
  tooLong: () => `Write at most ${longestNote} letters.`,
};

function errorsOf({ sent, faults, isEnough }: ToldPageProps): FormState['errors'] {
  const errors: FormState['errors'] = {};
  for (const [name, fault] of faults)
    errors[name] = words[fault](sent.find(({ speciesId }) => name.endsWith(`-${speciesId}`)));
  if (isEnough) errors[''] = 'So many reports of one order are kept already that no more are taken.';
  return errors;
}

/** How the animals of an order arrived, as its customer told by telephone or letter. */
export function ToldPage(props: ToldPageProps) {
  const { furniture, number, sent, values } = props;
  const errors = errorsOf(props);
  const field = (name: string) => ({ name, value: values[name] ?? '', error: errors[name] });
  const path = `/orders/${number}/arrival/told`;
  return (
    <Shell
      furniture={furniture}
      title="What the customer told you"
      purpose="How the animals arrived, for a customer who called or wrote. It counts like a report of their own, and the latest counts."
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: `/orders/${number}`, label: `Order ${number}` },
      ]}
    >
      <Form furniture={furniture} action={path} keyPart="well">
        <Actions>
          <Button kind="main" name="all" value="well">
            All arrived well
          </Button>
        </Actions>
      </Form>
      <Form furniture={furniture} action={path} keyPart="losses">
        <ErrorSummary errors={errors} />
        <h2>Or some did not</h2>
        {sent.map((one) => (
          <FieldSet
            key={one.speciesId}
            legend={
              <>
                <Latin>{one.scientificName}</Latin>, {one.animals} sent
              </>
            }
          >
            <div class="field-row">
              <Field label="Dead" inputMode="numeric" size="short" {...field(deadField(one.speciesId))} />
              <Field
                label="Missing"
                inputMode="numeric"
                size="short"
                {...field(missingField(one.speciesId))}
              />
            </div>
          </FieldSet>
        ))}
        <TextAreaField label="What they said" rows={3} maxLength={longestNote} {...field(noteField)} />
        <Actions>
          <Button kind="main">Write it down</Button>
          <LinkButton href={`/orders/${number}`}>Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
