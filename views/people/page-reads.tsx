import { Empty } from '../layout/empty.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { RecordFilter, type RecordFilterProps } from './part-record-filter.tsx';

export type ReadRow = {
  id: number;
  at: number;
  who: string;
  /** 'customer 12', or a list: 'customers'. */
  subject: string;
  way: 'page' | 'paper' | 'file' | 'command';
};

export type ReadsPageProps = Pick<RecordFilterProps, 'people' | 'asked'> & {
  furniture: Furniture;
  rows: readonly ReadRow[];
  olderHref: string | null;
  csvHref: string;
  timeZone: string;
  locale: string;
};

const ways = {
  page: 'on a page',
  paper: 'as a PDF',
  file: 'saved as a file',
  command: 'written into a folder',
} as const;

const homes: Record<string, string> = {
  customer: '/customers/',
  order: '/orders/',
  invoice: '/invoices/',
  request: '/requests/',
  mail: '/mails/',
  person: '/people/',
};

/** One person or paper has a page of its own; lists have not. */
function Subject({ subject }: Pick<ReadRow, 'subject'>) {
  const [kind = '', which, more] = subject.split(' ');
  const home = homes[kind];
  if (!home || !which || more) return <>{subject}</>;
  return (
    <a href={`${home}${encodeURIComponent(which)}`}>
      {kind === 'person' ? 'a person who works here' : subject}
    </a>
  );
}

/** Who looked at whose data, for the owner and for whoever asks about their own. */
export function ReadsPage(props: ReadsPageProps) {
  const { furniture, rows, people, asked, olderHref, csvHref, timeZone, locale } = props;
  return (
    <Shell
      furniture={furniture}
      title="Who looked at whose data"
      breadcrumbs={[
        { href: '/settings', label: 'Settings' },
        { href: '/settings/changes', label: 'Record of changes' },
      ]}
      purpose="Pages, papers and files about customers and people who work here: a line for each person and day, with the first time on that day. Kept for 400 days; nobody can change them."
      width="wide"
    >
      <RecordFilter action="/settings/reads" label="Choose lines" people={people} asked={asked} />
      {rows.length === 0 ? (
        <Empty
          title={
            Object.values(asked).some(Boolean)
              ? 'Nothing is written down of these. Choose fewer things above.'
              : 'Nobody has looked at anybody’s data yet.'
          }
        />
      ) : (
        <DataTable
          caption="Who looked at whose data"
          hideCaption
          rows={rows}
          rowKey={(row) => String(row.id)}
          columns={[
            {
              key: 'at',
              head: 'First at',
              cell: (row) => <Moment at={row.at} timeZone={timeZone} locale={locale} />,
            },
            { key: 'who', head: 'Who', cell: (row) => row.who },
            { key: 'what', head: 'What', cell: (row) => <Subject subject={row.subject} /> },
            { key: 'way', head: 'How', cell: (row) => ways[row.way] },
          ]}
        />
      )}
      <p>
        {olderHref && <a href={olderHref}>Older lines</a>}
        {olderHref && ' · '}
        <a href={csvHref}>Save these as CSV</a>
      </p>
    </Shell>
  );
}
