import { entryWords, kindWords } from '../cultures/entry-words.ts';
import { Code, Latin } from '../layout/code.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import { Day } from '../layout/number.tsx';
import { DataTable } from '../layout/table.tsx';
import type { PreviewProps, SampleEntry } from './preview-data.ts';

function Cultures({ sampleCultures, furniture }: PreviewProps) {
  if (sampleCultures.length === 0) return null;
  return (
    <DataTable
      caption="The first cultures"
      rows={sampleCultures}
      rowKey={(row) => row.code}
      columns={[
        { key: 'code', head: 'Culture', rowHeader: true, cell: (row) => <Code>{row.code}</Code> },
        { key: 'species', head: 'Species', cell: (row) => <Latin>{row.species}</Latin> },
        { key: 'line', head: 'Line', cell: (row) => row.line ?? '' },
        {
          key: 'founded',
          head: 'Founded',
          cell: (row) => <Day iso={row.foundedOn} locale={furniture.locale} />,
        },
        {
          key: 'from',
          head: 'With',
          cell: (row) => `${formatNumber(row.animals)} animals, ${row.from}`,
        },
        { key: 'enclosure', head: 'Enclosure', cell: (row) => row.enclosure ?? 'not told' },
        { key: 'place', head: 'Place', cell: (row) => row.place },
      ]}
    />
  );
}

const saying = ({ data }: SampleEntry) => [entryWords(data), data.note].filter(Boolean).join('; ');

function Entries({ sampleEntries, furniture }: PreviewProps) {
  if (sampleEntries.length === 0) return null;
  return (
    <DataTable
      caption="Diary entries, one or two of each kind"
      rows={sampleEntries}
      rowKey={(row) => `${row.code} ${row.line} ${row.data.kind}`}
      columns={[
        {
          key: 'kind',
          head: 'Kind',
          rowHeader: true,
          cell: (row) => kindWords[row.data.kind] ?? row.data.kind,
        },
        { key: 'code', head: 'Culture', cell: (row) => <Code>{row.code}</Code> },
        {
          key: 'day',
          head: 'Day',
          cell: (row) => <Day iso={row.data.onDay} locale={furniture.locale} />,
        },
        { key: 'says', head: 'It says', phoneWide: true, cell: saying },
        { key: 'by', head: 'By', cell: (row) => row.by ?? '' },
        { key: 'line', head: 'From line', numeric: true, cell: (row) => row.line },
      ]}
    />
  );
}

/** What the records will say, so that a mistake of reading is seen before it is written. */
export function Sample(props: PreviewProps) {
  if (props.sampleCultures.length + props.sampleEntries.length === 0) return null;
  return (
    <section id="sample" aria-labelledby="sample-title">
      <h2 id="sample-title">What will be written</h2>
      <Cultures {...props} />
      <Entries {...props} />
    </section>
  );
}

/** What was noticed on the way: nothing here keeps a row out. */
export function Notices({ notices, files }: PreviewProps) {
  if (notices.length === 0) return null;
  return (
    <section aria-labelledby="notices-title">
      <h2 id="notices-title">Good to know</h2>
      <p>None of this keeps a row out.</p>
      {notices.map((group) => (
        <details key={`${group.file} ${group.kind}`} class="more">
          <summary>
            {group.title}: {formatCount(group.rows, 'row')}
            {files.length > 1 && ` in ${group.file === 'cultures' ? 'the cultures' : 'the diary'}`}
          </summary>
          <ul>
            {group.first.map(({ line, message }) => (
              <li key={`${line} ${message}`}>
                {line !== null && `Line ${line}: `}
                {message}
              </li>
            ))}
            {group.rows > group.first.length && (
              <li>and {formatNumber(group.rows - group.first.length)} more</li>
            )}
          </ul>
        </details>
      ))}
    </section>
  );
}

/** Rows that will not be brought in although nothing is open about them. */
export function OtherRows({ otherRows, rows, uploadKey, files }: PreviewProps) {
  if (otherRows.length === 0) return null;
  return (
    <section aria-labelledby="other-title">
      <h2 id="other-title">Rows that stay out</h2>
      <p>
        {rows.leftOut > 0 && `${formatCount(rows.leftOut, 'row')} left out. `}
        {rows.alreadyThere > 0 && `${formatCount(rows.alreadyThere, 'row')} in the records already. `}
        {files.map((file) => (
          <a
            key={file.number}
            class="next"
            href={`/records/drafts/${uploadKey}/files/${file.number}/not-brought-in.csv`}
          >
            All that stay out of {file.reading.name}, as CSV
          </a>
        ))}
      </p>
      <details class="more">
        <summary>The first of them</summary>
        <DataTable
          caption="Rows that stay out"
          hideCaption
          rows={otherRows}
          rowKey={(row) => `${row.file} ${row.line}`}
          columns={[
            { key: 'line', head: 'Line', rowHeader: true, cell: (row) => `Line ${row.line}` },
            {
              key: 'row',
              head: 'The row',
              phoneWide: true,
              cell: (row) => <code class="raw">{row.raw}</code>,
            },
            { key: 'why', head: 'Why', phoneWide: true, cell: (row) => row.why },
          ]}
        />
      </details>
    </section>
  );
}
