import type { RowFault } from '../../shared/records/faults.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { SavedMeanwhile } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, TextAreaField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type MendPageProps = {
  furniture: Furniture;
  back: string;
  action: string;
  version: number;
  fileName: string;
  line: number;
  labels: string[];
  /** The row as it stands in the file. */
  raw: string;
  reasons: RowFault[];
  isMended: boolean;
  form: FormState;
};

function Cell({
  label,
  name,
  form,
  wrong,
}: {
  label: string;
  name: string;
  form: FormState;
  wrong: string[];
}) {
  const field = fieldOf(form, name);
  const help = wrong.join(' ') || undefined;
  const text = String(field.value ?? '');
  return text.length > 60 || text.includes('\n') ? (
    <TextAreaField label={label} help={help} {...field} />
  ) : (
    <Field label={label} help={help} {...field} />
  );
}

/** One row that cannot come in as it is: what is wrong, and its cells to be written anew. */
export function MendPage(props: MendPageProps) {
  const { furniture, labels, reasons, form, version } = props;
  const names = Object.fromEntries(labels.map((label, at) => [`cell.${at}`, label]));
  return (
    <Shell
      furniture={furniture}
      title={`Line ${props.line} of ${props.fileName}`}
      purpose="Your file stays as it is; the row comes in as you write it here."
      breadcrumbs={[
        { href: '/records', label: 'Records' },
        { href: props.back, label: 'Look before it comes in' },
      ]}
    >
      <p>
        It stands there as <code class="raw">{props.raw}</code>
      </p>
      {reasons.length > 0 && (
        <ul>
          {reasons.map((one) => (
            <li key={one.reason}>
              {one.reason} {one.mend}
            </li>
          ))}
        </ul>
      )}
      <Form furniture={furniture} action={props.action}>
        <SavedMeanwhile form={form} words={names} />
        <ErrorSummary errors={form.errors} labels={names} />
        <input type="hidden" name="version" value={version} />
        {labels.map((label, at) => (
          <Cell
            key={label}
            label={label}
            name={`cell.${at}`}
            form={form}
            wrong={reasons.filter((one) => one.column === label).map((one) => one.mend)}
          />
        ))}
        <Actions>
          <Button kind="main">Take the row so</Button>
          <LinkButton href={props.back}>Back without a change</LinkButton>
        </Actions>
      </Form>
      {props.isMended && (
        <PostButton
          furniture={furniture}
          action={props.action}
          label="Take the row as it stands in the file again"
          fields={{ takeBack: 'yes', version }}
          keyPart="take-back"
        />
      )}
    </Shell>
  );
}
