import type { UnitSystem } from '../../shared/settings/units.ts';
import { Code } from '../layout/code.tsx';
import { Day } from '../layout/number.tsx';
import { Pager } from '../layout/pager.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { type EntryData, entryWords, kindWords } from './entry-words.ts';
import { cultureHref } from './page-list.tsx';

export type DiaryProps = {
  code: string;
  entries: EntryData[];
  /** Entries that were counted on a photo, by their places. */
  photographed: ReadonlySet<number>;
  page: number;
  pageSize: number;
  total: number;
  locale?: string;
  units?: UnitSystem;
};

const viaWords: Record<string, string> = { import: 'brought in', packing: 'packing', demo: 'demo' };

/** The words of an entry, with the other culture's code as a link where it stands in them, or after them. */
function Said({ entry, units }: { entry: EntryData; units?: UnitSystem }) {
  const words = entryWords(entry, units);
  if (entry.otherCode === null) return <>{words}</>;
  const at = words.lastIndexOf(entry.otherCode);
  const [before, after] =
    at < 0 ? [`${words} `, ''] : [words.slice(0, at), words.slice(at + entry.otherCode.length)];
  return (
    <>
      {before}
      <Code href={cultureHref(entry.otherCode)}>{entry.otherCode}</Code>
      {after}
    </>
  );
}

function What({ entry, units }: { entry: EntryData; units?: UnitSystem }) {
  const gone = entry.replacedBy !== null || entry.withdrawn;
  const words = (
    <>
      <strong>{kindWords[entry.kind]}</strong> <Said entry={entry} units={units} />
      {entry.note && <span class="entry-note"> {entry.note}</span>}
    </>
  );
  if (!gone) return words;
  return (
    <>
      <s>{words}</s> <em>{entry.withdrawn ? 'taken out' : 'corrected later'}</em>
    </>
  );
}

function PhotoLink({
  entry,
  code,
  photographed,
}: { entry: EntryData } & Pick<DiaryProps, 'code' | 'photographed'>) {
  if (!photographed.has(entry.rootId ?? entry.id)) return null;
  return (
    <>
      {' '}
      <a href={`${cultureHref(code)}/diary/${entry.id}`}>Photo</a>
    </>
  );
}

const columns = ({ code, photographed, locale, units }: DiaryProps): Column<EntryData>[] => [
  { key: 'day', head: 'Day', rowHeader: true, cell: (e) => <Day iso={e.onDay} locale={locale} /> },
  {
    key: 'what',
    head: 'What',
    cell: (e) => (
      <>
        <What entry={e} units={units} />
        <PhotoLink entry={e} code={code} photographed={photographed} />
      </>
    ),
    phoneLabel: '',
  },
  {
    key: 'by',
    head: 'By',
    cell: (e) => [e.by, viaWords[e.via]].filter(Boolean).join(', ') || 'unknown',
  },
  {
    key: 'mend',
    head: 'Mend',
    hideHead: true,
    phoneLabel: '',
    cell: (e) =>
      e.replacedBy === null && !e.withdrawn ? (
        <span class="row-links">
          <a href={`${cultureHref(code)}/diary/${e.id}`}>Correct</a>
        </span>
      ) : null,
  },
];

/** A culture's diary, newest first. What was corrected stays readable. */
export function Diary(props: DiaryProps) {
  const { code, entries, page, pageSize, total, locale } = props;
  return (
    <section id="diary" aria-labelledby="diary-title">
      <h2 id="diary-title">Diary</h2>
      {entries.length === 0 ? (
        <p>Nothing is written down yet. The first check begins the diary.</p>
      ) : (
        <>
          <DataTable
            caption={`Diary of ${code}`}
            hideCaption
            columns={columns(props)}
            rows={entries}
            rowKey={(e) => e.id}
          />
          <Pager
            page={page}
            pageSize={pageSize}
            total={total}
            href={(p) => `${cultureHref(code)}?page=${p}#diary`}
            what="entries"
            locale={locale}
          />
        </>
      )}
    </section>
  );
}
