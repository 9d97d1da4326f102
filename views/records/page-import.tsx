import { LinkButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { type BroughtData, daysWords, kindsWords, madeWords } from './brought.ts';
import { EstimatesProgress, type EstimatesProgressProps } from './part-progress.tsx';
import { kindWords } from './words.ts';

type FileData = {
  number: number;
  fileName: string;
  kind: 'cultures' | 'diary';
  broughtIn: number;
  alreadyThere: number;
  leftOut: number;
  first: { line: number; raw: string; why: string }[];
};

export type ImportPageProps = {
  furniture: Furniture;
  id: number;
  when: string;
  by: string | null;
  undone: string | null;
  files: FileData[];
  brought: BroughtData;
  unmeasured: string[];
  progress: EstimatesProgressProps;
};

function Files({ files, furniture }: ImportPageProps) {
  const number = (value: number) => formatNumber(value, furniture.locale);
  return (
    <DataTable
      caption="Rows of the files"
      rows={files}
      rowKey={(file) => file.number}
      columns={[
        { key: 'name', head: 'File', rowHeader: true, cell: (file) => file.fileName },
        { key: 'kind', head: 'What it is', cell: (file) => kindWords[file.kind] },
        { key: 'in', head: 'Came in', numeric: true, cell: (file) => number(file.broughtIn) },
        { key: 'there', head: 'There already', numeric: true, cell: (file) => number(file.alreadyThere) },
        { key: 'out', head: 'Left out', numeric: true, cell: (file) => number(file.leftOut) },
      ]}
    />
  );
}

function LeftOut({ file, id }: { file: FileData; id: number }) {
  if (file.leftOut === 0) return null;
  const href = `/records/imports/${id}/files/${file.number}/left-out.csv`;
  return (
    <section aria-labelledby={`left-${file.number}`}>
      <h2 id={`left-${file.number}`}>
        Left out of {file.fileName}: {formatCount(file.leftOut, 'row')}
      </h2>
      <p>
        <a href={href}>Download them with their reasons</a>, mend them there, and bring that file: its columns
        are the same.
      </p>
      <DataTable
        caption={`Rows left out of ${file.fileName}`}
        hideCaption
        rows={file.first}
        rowKey={(row) => row.line}
        columns={[
          { key: 'line', head: 'Line', rowHeader: true, cell: (row) => `Line ${row.line}` },
          { key: 'row', head: 'The row', phoneWide: true, cell: (row) => <code class="raw">{row.raw}</code> },
          { key: 'why', head: 'Why', phoneWide: true, cell: (row) => row.why },
        ]}
      />
    </section>
  );
}

function Next({ unmeasured, brought }: ImportPageProps) {
  return (
    <section aria-labelledby="next-title">
      <h2 id="next-title">Next</h2>
      <ul>
        {unmeasured.length > 0 && (
          <li>
            Measure {unmeasured.join(', ')}: how much they hold was taken from their names, and how many
            animals fit follows from it. <a href="/enclosures">To the enclosures</a>
          </li>
        )}
        {brought.made.species > 0 && (
          <li>
            Look at the new species: their figures are common practice, and prices begin at nothing.{' '}
            <a href="/species">To the species</a>
          </li>
        )}
        <li>
          Walk the round: what wants a look today, in walking order. <a href="/round">To the round</a>
        </li>
      </ul>
    </section>
  );
}

/** What came in, what did not, and how far the estimates are. */
export function ImportPage(props: ImportPageProps) {
  const { furniture, id, when, by, undone, brought, progress } = props;
  return (
    <Shell
      furniture={furniture}
      title={undone ? 'Undone' : 'What came in'}
      purpose={`What was brought in, and all of it can be undone: ${props.files.map((file) => file.fileName).join(' and ')}, ${when}${by ? `, by ${by}` : ''}`}
      width="wide"
      breadcrumbs={[{ href: '/records', label: 'Records' }]}
      actions={
        undone === null && <LinkButton href={`/records/imports/${id}/undo`}>Undo all of it</LinkButton>
      }
    >
      {undone === null ? (
        <>
          <EstimatesProgress {...progress} />
          <Facts
            items={[
              { term: 'Made', value: madeWords(brought, furniture.locale) },
              { term: 'Entries', value: kindsWords(brought, furniture.locale) },
              { term: 'Days', value: daysWords(brought, furniture.locale) },
            ]}
          />
        </>
      ) : (
        <Notice>
          This was undone on {undone}. Nothing of it is in the records. It can be brought in again.
        </Notice>
      )}
      <Files {...props} />
      {undone === null && <Next {...props} />}
      {props.files.map((file) => (
        <LeftOut key={file.number} file={file} id={id} />
      ))}
    </Shell>
  );
}
