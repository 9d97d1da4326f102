import { Facts } from '../layout/facts.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import { Notice } from '../layout/notice.tsx';
import { Columns } from './part-columns.tsx';
import { Format, Rules } from './part-rules.tsx';
import { WordList } from './part-word-list.tsx';
import type { FileView, PreviewProps } from './preview-data.ts';
import { delimiterWords, encodingOptions, kindWords } from './words.ts';

const labelOf = (options: readonly { value: string; label: string }[], value: string) =>
  options.find((option) => option.value === value)?.label ?? value;

const orderWords = { dmy: 'day first', mdy: 'month first' } as const;

function headingWords(headerLine: number | null): string {
  return headerLine === null ? 'none' : `on line ${headerLine}`;
}

function FileFacts({ file }: { file: FileView }) {
  const { reading } = file;
  const { counts, mapping } = reading;
  const numbers = [
    counts.accepted === counts.rows ? 'all come in' : `${formatNumber(counts.accepted)} come in`,
    counts.faulty > 0 && `${formatNumber(counts.faulty)} cannot as they are`,
    counts.leftOut > 0 && `${formatNumber(counts.leftOut)} left out`,
    counts.alreadyThere > 0 && `${formatNumber(counts.alreadyThere)} there already`,
    counts.blank > 0 && `${formatNumber(counts.blank)} blank lines besides`,
  ].filter(Boolean);
  return (
    <Facts
      items={[
        { term: 'What it is', value: kindWords[reading.kind] },
        { term: 'Rows', value: `${formatNumber(counts.rows)}: ${numbers.join(', ')}` },
        {
          term: 'Read as',
          value: `${labelOf(encodingOptions, reading.encoding)}, parted by ${delimiterWords[mapping.delimiter]}, headings ${headingWords(mapping.headerLine)}`,
        },
        mapping.dateOrder !== null && { term: 'Days', value: orderWords[mapping.dateOrder] },
        reading.columnsLeftOut.length > 0 && {
          term: 'Columns left out',
          value: reading.columnsLeftOut
            .map(({ label, filled }) => `${label} (${formatCount(filled, 'cell')})`)
            .join(', '),
        },
      ]}
    />
  );
}

function Mended({ file, uploadKey }: { file: FileView; uploadKey: string }) {
  if (file.mended.length === 0) return null;
  return (
    <p>
      Mended here:{' '}
      {file.mended.slice(0, 30).map((line) => (
        <a key={line} class="next" href={`/records/drafts/${uploadKey}/files/${file.number}/rows/${line}`}>
          line {line}
        </a>
      ))}
    </p>
  );
}

/** Whether something about a file must be said before its rows can be judged. */
export const hasQuestions = ({ reading }: FileView) =>
  reading.questions.some((one) => one.kind === 'columns-needed' || one.kind === 'column-not-found') ||
  reading.words.some((use) => use.means === null);

/** How one file was read: what was found out, and a form for each thing that can be said otherwise. */
export function FileSection({ file, props }: { file: FileView; props: PreviewProps }) {
  const { reading, number } = file;
  const common = {
    furniture: props.furniture,
    action: `/records/drafts/${props.uploadKey}/files/${number}`,
    version: props.version,
    file,
    returned: props.form,
  };
  const came = props.form.id === `file${number}`;
  const openWords = reading.words.filter((use) => use.means === null).length;
  const needsColumns = reading.questions.some((one) => one.kind === 'columns-needed');
  return (
    <section id={`file-${number}`} aria-labelledby={`file-title-${number}`} class="file-section">
      <h2 id={`file-title-${number}`}>How {reading.name} was read</h2>
      <FileFacts file={file} />
      {reading.replaced > 0 && (
        <Notice tone="needs-you">
          {formatCount(reading.replaced, 'place')} in this file cannot be read as{' '}
          {labelOf(encodingOptions, reading.encoding)}. Choose another encoding, or save the file again as
          UTF-8.
        </Notice>
      )}
      <Mended file={file} uploadKey={props.uploadKey} />
      <details class="more" open={needsColumns || (came && hasColumnErrors(props))}>
        <summary>What each column holds</summary>
        <Columns {...common} />
      </details>
      {reading.words.length > 0 && (
        <details class="more" id={`words-${number}`} open={openWords > 0}>
          <summary>
            What each word means
            {openWords > 0 && `: ${formatCount(openWords, 'word is', 'words are')} open`}
          </summary>
          <WordList {...common} />
        </details>
      )}
      <details class="more" open={came && !hasColumnErrors(props)}>
        <summary>Encoding, delimiter, and rules for all rows</summary>
        <Format {...common} />
        <Rules {...common} />
      </details>
    </section>
  );
}

const hasColumnErrors = (props: PreviewProps) =>
  Object.keys(props.form.errors).some((name) => name.startsWith('column.'));
