import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { RecordFilter } from './part-record-filter.tsx';

export type ChangeRow = {
  id: number;
  at: number;
  who: string | null;
  action: string;
  subject: string;
  /** JSON of what stood there, and of what stands there now. */
  before: string | null;
  after: string | null;
};

export type ChangesPageProps = {
  furniture: Furniture;
  rows: readonly ChangeRow[];
  people: readonly { id: string; name: string }[];
  asked: { who: string; subject: string; from: string; until: string };
  olderHref: string | null;
  csvHref: string;
  timeZone: string;
  locale: string;
};

const said = (value: unknown) =>
  value === null || value === ''
    ? 'nothing'
    : typeof value === 'object'
      ? JSON.stringify(value)
      : String(value);

function valuesOf(json: string | null): Record<string, unknown> {
  const value: unknown = json === null ? {} : JSON.parse(json);
  return value !== null && typeof value === 'object' ? { ...value } : { value };
}

const wordsOf = (name: string) => name.replace(/[A-Z0-9]+/g, (part) => ` ${part.toLowerCase()}`);

/** Both versions, a line for each thing that differs. */
function Versions({ before, after }: Pick<ChangeRow, 'before' | 'after'>) {
  const was = valuesOf(before);
  const is = valuesOf(after);
  if (was.erased === true || is.erased === true) return <span class="quiet">erased with the person</span>;
  // Of a new thing, what was left empty says nothing.
  const isSaid = (name: string) => before !== null || said(is[name]) !== 'nothing';
  const names = [...new Set([...Object.keys(was), ...Object.keys(is)])].filter(isSaid);
  return (
    <>
      {names.map((name) => (
        <div key={name} class="change">
          {wordsOf(name)}: {name in was && before !== null && <>{said(was[name])} → </>}
          {name in is ? said(is[name]) : 'gone'}
        </div>
      ))}
    </>
  );
}

export function ChangesPage(props: ChangesPageProps) {
  const { furniture, rows, people, asked, olderHref, csvHref, timeZone, locale } = props;
  return (
    <Shell
      furniture={furniture}
      title="Record of changes"
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
      purpose="Who changed what, and when. Nobody can change or delete these lines, not even an owner."
      width="wide"
      actions={
        <>
          <LinkButton href="/settings/reads">Who looked at whose data</LinkButton>
          <LinkButton href="/settings/changes/check">Check that nothing is missing</LinkButton>
        </>
      }
    >
      <RecordFilter
        action="/settings/changes"
        label="Choose changes"
        people={people}
        asked={asked}
        nobody={{ value: 'nobody', label: 'Nobody signed in' }}
      />
      {rows.length === 0 ? (
        <Empty title="No change is written down here. Choose fewer things above." />
      ) : (
        <DataTable
          caption="Changes"
          hideCaption
          rows={rows}
          rowKey={(row) => String(row.id)}
          columns={[
            {
              key: 'at',
              head: 'When',
              cell: (row) => <Moment at={row.at} timeZone={timeZone} locale={locale} />,
            },
            { key: 'who', head: 'Who', cell: (row) => row.who ?? 'nobody signed in' },
            { key: 'what', head: 'What', cell: (row) => `${row.action}: ${row.subject}` },
            {
              key: 'versions',
              head: 'Before → after',
              phoneWide: true,
              cell: (row) => <Versions {...row} />,
            },
          ]}
        />
      )}
      <p>
        {olderHref && <a href={olderHref}>Older changes</a>}
        {olderHref && ' · '}
        <a href={csvHref}>Save these as CSV</a>
      </p>
    </Shell>
  );
}
