import { culturesRoles, diaryRoles } from '../../shared/records/header-words.ts';
import { type Option, SelectField } from '../layout/field.tsx';
import { type FormState, fieldOf } from '../layout/form.tsx';
import type { FormFurniture } from '../layout/furniture.ts';
import { DataTable } from '../layout/table.tsx';
import { formFor, SayForm } from './part-form.tsx';
import type { ColumnView, FileView } from './preview-data.ts';
import { roleWords } from './words.ts';

const uses = (kind: 'cultures' | 'diary'): Option[] => [
  ...(kind === 'cultures' ? culturesRoles : diaryRoles).map((role) => ({
    value: role,
    label: roleWords[role],
  })),
  { value: 'keep', label: 'Keep it in the note' },
  ...(kind === 'diary' ? [{ value: 'entry', label: 'Its heading says what was done' }] : []),
  { value: '', label: 'Leave it out' },
];

export type FilePartProps = {
  furniture: FormFurniture;
  action: string;
  version: number;
  file: FileView;
  returned: FormState;
};

/** What each column holds: its heading, what stands in it, and a choice. */
export function Columns({ furniture, action, version, file, returned }: FilePartProps) {
  const values = Object.fromEntries(file.columns.map((column, at) => [`column.${at}`, column.use]));
  const form = formFor(returned, `file${file.number}`, values);
  const labels = Object.fromEntries(file.columns.map((column, at) => [`column.${at}`, column.label]));
  const options = uses(file.reading.kind);
  return (
    <SayForm
      furniture={furniture}
      action={action}
      version={version}
      form={form}
      part="columns"
      keyPart={`columns${file.number}`}
      button="Read the columns so"
      labels={labels}
    >
      <DataTable<ColumnView & { at: number }>
        caption={`Columns of ${file.reading.name}`}
        hideCaption
        rows={file.columns.map((column, at) => ({ ...column, at }))}
        rowKey={(row) => row.at}
        columns={[
          { key: 'label', head: 'Column', rowHeader: true, cell: (row) => <strong>{row.label}</strong> },
          {
            key: 'cells',
            head: 'What stands in it',
            phoneWide: true,
            cell: (row) => <span class="raw">{row.filled.join(' · ') || 'nothing in the first rows'}</span>,
          },
          {
            key: 'use',
            head: 'It holds',
            phoneWide: true,
            cell: (row) => (
              <SelectField
                label={`Column ${row.label} holds`}
                hideLabel
                options={options}
                {...fieldOf(form, `column.${row.at}`)}
              />
            ),
          },
        ]}
      />
    </SayForm>
  );
}
