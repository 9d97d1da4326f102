import type { LabelPaper, LaidSheet } from '../../shared/labels/sheet.ts';
import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type SaidIn, saySheet } from './say.ts';
import { sayLabels } from './say-worked-out.ts';

type Row = {
  id: number;
  name: string;
  nextLabel: number;
  laid: { ok: true; sheet: LaidSheet } | { ok: false };
};

export type SheetsPageProps = { furniture: Furniture; sheets: Row[]; paper: LabelPaper; said: SaidIn };

const sayRow = ({ name, laid }: Row, said: SaidIn) =>
  laid.ok ? [`${name}. ${sayLabels(laid.sheet, said).join(' ')}`] : [];

export function SheetsPage({ furniture, sheets, paper, said }: SheetsPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Sheets of labels"
      purpose="The label papers you print on, with their measures."
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
      actions={
        <LinkButton href="/label-sheets/new" kind="main">
          New sheet
        </LinkButton>
      }
    >
      {sheets.length === 0 ? (
        <Empty
          title="No sheet is measured yet."
          step={{ href: '/label-sheets/new', label: 'Measure the label paper you have' }}
        >
          <p>Until then labels are printed on plain {paper} with cutting lines.</p>
        </Empty>
      ) : (
        <DataTable
          caption="Sheets of labels"
          hideCaption
          rows={sheets}
          rowKey={(row) => row.id}
          rowTone={(row) => (row.laid.ok ? undefined : 'needs-you')}
          columns={[
            {
              key: 'name',
              head: 'Name',
              rowHeader: true,
              cell: (row) => <a href={`/label-sheets/${row.id}`}>{row.name}</a>,
            },
            {
              key: 'measures',
              head: 'Labels',
              computed: 'label',
              cell: (row) =>
                row.laid.ok ? saySheet(row.laid.sheet, said) : `Does not fit on ${paper}: mend it.`,
            },
            {
              key: 'next',
              head: 'Sheet in the printer',
              cell: (row) => (row.nextLabel === 1 ? 'a new one' : `used up to label ${row.nextLabel - 1}`),
            },
          ]}
        />
      )}
      {sheets.length > 0 && <WorkedOut of="label" so={sheets.flatMap((row) => sayRow(row, said))} />}
      <p>
        <a href="/labels">Print labels</a>
      </p>
    </Shell>
  );
}
