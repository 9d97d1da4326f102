import { Actions, Button } from '../layout/button.tsx';
import { FileFaults } from '../layout/file-faults.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { FormFurniture } from '../layout/furniture.ts';

export type WeatherFileProps = {
  furniture: FormFurniture;
  action: string;
  title: string;
  /** The columns that the file must have, by name. */
  columns: string;
  sourceHelp?: string;
  form: FormState;
  /** Lines of a file that came back, and what is wrong with them. */
  faults: readonly { line: number; why: string }[];
};

/** Bringing lows and highs in from a file; open where one came back. */
export function WeatherFile(props: WeatherFileProps) {
  const { furniture, action, title, columns, sourceHelp, form, faults } = props;
  return (
    <details class="more" open={Object.keys(form.errors).length > 0}>
      <summary>{title}</summary>
      <Form furniture={furniture} action={action} encType="multipart/form-data">
        <ErrorSummary errors={form.errors} formId={form.id} labels={{ source: 'Source', file: 'CSV file' }} />
        <Field label="Source" maxLength={80} help={sourceHelp} {...fieldOf(form, 'source')} required />
        <Field
          label="CSV file"
          type="file"
          accept=".csv,text/csv"
          help={`The first line names the columns: ${columns}. Days as 2026-11-25.`}
          {...fieldOf(form, 'file')}
        />
        <FileFaults faults={faults} />
        <Actions>
          <Button>Bring in</Button>
        </Actions>
      </Form>
    </details>
  );
}
