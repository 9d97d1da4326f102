import { DataTable } from '../layout/table.tsx';

type Example = readonly string[];

const cultureHeads = ['Code', 'Species', 'Box', 'Where', 'Started', 'From', 'Started with'];
const cultureRows = (box: string): readonly Example[] => [
  ['PO-020', 'Porcellio laevis', box, 'Rack 1 / 3', '2025-01-14', 'bought', '20'],
  ['PO-021', 'Porcellio laevis', box, 'Rack 1 / 4', '2025-08-02', 'PO-020', '14'],
];
const diaryHeads = ['Date', 'Culture', 'What', 'Number', 'Note', 'By'];
const diaryRows: readonly Example[] = [
  ['2025-08-02', 'PO-020', 'split', '14', 'to PO-021', 'me'],
  ['2025-08-09', 'po 21', 'seen', '~6', '', 'Kim'],
  ['2025-08-10', 'PO-020', 'sold', '12', 'starter group', 'me'],
];

function ExampleTable(props: { caption: string; heads: readonly string[]; rows: readonly Example[] }) {
  return (
    <DataTable
      caption={props.caption}
      rows={props.rows}
      rowKey={(row) => row.join()}
      columns={props.heads.map((head, at) => ({ key: head, head, cell: (row: Example) => row[at] }))}
    />
  );
}

/** What a file may look like, by two examples and a few sentences. */
export function WhatCanCome({ usSystem }: { usSystem: boolean }) {
  const box = usSystem ? '6 qt tub' : '6 l box';
  return (
    <section aria-labelledby="what-title">
      <h2 id="what-title">What your files may look like</h2>
      <p>
        Any table that is saved as CSV: one row for each culture, or one row for each thing that was done or
        seen. Columns may have any name and any order, in English, German, Spanish or otherwise; you say what
        each holds where it is not clear. Your own words are kept: you say once that “saw” is a count of what
        showed, and that “sold” is a harvest. Rough numbers (“~40”, “40+”, “about 40”) are taken as they are
        meant.
      </p>
      <ExampleTable caption="A list of cultures" heads={cultureHeads} rows={cultureRows(box)} />
      <ExampleTable caption="A diary" heads={diaryHeads} rows={diaryRows} />
      <p>
        Nothing is dropped in silence: every row that cannot be taken is shown with its reason, and you mend
        it or leave it out. The whole can be undone, and the same file brought again adds only what is new.
      </p>
    </section>
  );
}
