import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WhatCanCome } from './part-examples.tsx';
import { ExportLinks } from './part-exports.tsx';

export type FormerImport = {
  id: number;
  files: string[];
  rows: number;
  leftOut: number;
  by: string | null;
  when: string;
  /** When it was undone, in words. */
  undone: string | null;
};

export type RecordsPageProps = {
  furniture: Furniture;
  form: FormState;
  /** Files that were uploaded and not brought in yet. */
  drafts: { key: string; names: string; when: string }[];
  imports: FormerImport[];
};

const kindOptions = [
  { value: '', label: 'Find out what it is' },
  { value: 'cultures', label: 'A list of cultures' },
  { value: 'diary', label: 'A diary' },
];
const labels = {
  file1: 'First file',
  file2: 'Second file',
  kind1: 'What the first file is',
  kind2: 'What the second file is',
  mapping: 'Saved mapping',
};

function FileSlot({ slot, form }: { slot: 1 | 2; form: FormState }) {
  const second = slot === 2;
  return (
    <div class="field-row">
      <Field
        label={second ? 'Second file' : 'First file'}
        type="file"
        accept=".csv,.tsv,.txt,text/csv,text/plain"
        optional={second}
        help={
          second ? 'If cultures and diary are two files.' : 'CSV, up to 10 MB. In a spreadsheet: save as CSV.'
        }
        {...fieldOf(form, `file${slot}`)}
      />
      <SelectField
        label={second ? 'What the second file is' : 'What the first file is'}
        options={kindOptions}
        {...fieldOf(form, `kind${slot}`)}
      />
    </div>
  );
}

function UploadForm({ furniture, form }: RecordsPageProps) {
  return (
    <section class="slip" aria-labelledby="bring-title">
      <h2 id="bring-title">Bring your files</h2>
      <Form furniture={furniture} action="/records/drafts" encType="multipart/form-data">
        <ErrorSummary errors={form.errors} labels={labels} title="Not taken. What to mend:" />
        <FileSlot slot={1} form={form} />
        <FileSlot slot={2} form={form} />
        <details class="more" open={form.errors.mapping !== undefined}>
          <summary>I saved a mapping last time</summary>
          <Field
            label="Saved mapping"
            type="file"
            accept=".json,application/json"
            optional
            help="What each column and word means, as you saved it when you brought such a file before."
            {...fieldOf(form, 'mapping')}
          />
        </details>
        <Actions>
          <Button kind="main">Look at the files</Button>
          <span class="quiet">Nothing is written yet: you see first what would come in.</span>
        </Actions>
      </Form>
    </section>
  );
}

function Waiting({ drafts }: RecordsPageProps) {
  if (drafts.length === 0) return null;
  return (
    <section aria-labelledby="waiting-title">
      <h2 id="waiting-title">Not brought in yet</h2>
      <ul>
        {drafts.map(({ key, names, when }) => (
          <li key={key}>
            <a href={`/records/drafts/${key}`}>{names}</a>, uploaded {when}
          </li>
        ))}
      </ul>
      <p class="quiet">Files that nobody goes on with are thrown away after a week.</p>
    </section>
  );
}

function Former({ imports, furniture }: RecordsPageProps) {
  if (imports.length === 0) return null;
  return (
    <section aria-labelledby="former-title">
      <h2 id="former-title">What came in</h2>
      <DataTable
        caption="What came in"
        hideCaption
        rows={imports}
        rowKey={(row) => row.id}
        columns={[
          {
            key: 'files',
            head: 'Files',
            rowHeader: true,
            cell: (row) => <a href={`/records/imports/${row.id}`}>{row.files.join(', ')}</a>,
          },
          { key: 'when', head: 'When', cell: (row) => `${row.when}${row.by ? `, ${row.by}` : ''}` },
          {
            key: 'rows',
            head: 'Rows in',
            numeric: true,
            cell: (row) => formatNumber(row.rows, furniture.locale),
          },
          {
            key: 'left',
            head: 'Left out',
            numeric: true,
            cell: (row) => formatNumber(row.leftOut, furniture.locale),
          },
          { key: 'state', head: 'State', cell: (row) => (row.undone ? `undone ${row.undone}` : 'in use') },
          {
            key: 'undo',
            head: 'Undo',
            hideHead: true,
            phoneLabel: '',
            cell: (row) =>
              row.undone === null && (
                <LinkButton
                  href={`/records/imports/${row.id}/undo`}
                  ariaLabel={`Undo ${row.files.join(', ')}`}
                >
                  Undo
                </LinkButton>
              ),
          },
        ]}
      />
      <p class="quiet">{formatCount(imports.length, 'time', 'times', furniture.locale)} in all.</p>
    </section>
  );
}

/** Bring records, take them out again, and what came in so far. */
export function RecordsPage(props: RecordsPageProps) {
  return (
    <Shell
      furniture={props.furniture}
      title="Records"
      purpose="Bring the lists you keep now, and take everything out again whenever you like."
      width="wide"
    >
      <div class="columns columns-main">
        <div>
          <UploadForm {...props} />
          <Waiting {...props} />
          <Former {...props} />
          <WhatCanCome usSystem={props.furniture.units === 'us'} />
        </div>
        <ExportLinks />
      </div>
    </Shell>
  );
}
