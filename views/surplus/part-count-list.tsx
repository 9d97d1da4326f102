import { methodWords } from '../counts/method-words.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { MorphAndLine } from '../cultures/part-cells.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { formatNumber } from '../layout/format.ts';
import { Day } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import type { CountNextRow } from './page-count-next.tsx';
import { formatExpected, whyCount } from './say-count-next.ts';

const countHref = (row: CountNextRow) => `${cultureHref(row.code)}/count?method=${row.method}`;

function Why({ row, locale }: { row: CountNextRow; locale?: string }) {
  return (
    <>
      {whyCount(row, locale)}
      {row.notCountedSince && (
        <small class="under">
          {' '}
          asked for on <Day iso={row.notCountedSince} form="month-day" locale={locale} />, not counted
        </small>
      )}
    </>
  );
}

function gainColumns(locale?: string): Column<CountNextRow>[] {
  return [
    {
      key: 'now',
      head: 'Groups now',
      computed: 'count-next',
      numeric: true,
      cell: (r) => (r.gain ? formatNumber(r.gain.now, locale) : ''),
    },
    {
      key: 'after',
      head: 'Expected after',
      computed: 'count-next',
      numeric: true,
      cell: (r) => (r.gain ? formatExpected(r.gain.expected, locale) : ''),
    },
    {
      key: 'gain',
      head: 'Gain',
      computed: 'count-next',
      numeric: true,
      cell: (r) => (r.gain ? <strong>{formatExpected(r.gain.gain, locale)}</strong> : ''),
    },
    {
      key: 'minutes',
      head: 'Minutes',
      numeric: true,
      cell: (r) => formatNumber(r.minutes, locale, 1),
    },
    {
      key: 'rate',
      head: 'Gain a minute',
      computed: 'count-next',
      numeric: true,
      cell: (r) => (r.gain ? formatNumber(r.gain.perMinute, locale, 3) : ''),
    },
  ];
}

function columns(locale?: string): Column<CountNextRow>[] {
  return [
    {
      key: 'code',
      head: 'Culture',
      rowHeader: true,
      cell: (r) => (
        <>
          <Code href={cultureHref(r.code)}>{r.code}</Code>
          <small class="under">
            {' '}
            <Latin>{r.scientificName}</Latin>
          </small>
          <MorphAndLine morph={r.morph} line={r.line} />
        </>
      ),
    },
    ...gainColumns(locale),
    { key: 'how', head: 'Counted by', cell: (r) => methodWords[r.method].label },
    { key: 'place', head: 'Place', cell: (r) => r.place ?? 'no place yet' },
    {
      key: 'why',
      head: 'Why',
      phoneWide: true,
      computed: 'population',
      cell: (r) => <Why row={r} locale={locale} />,
    },
    {
      key: 'do',
      head: 'Do',
      hideHead: true,
      phoneLabel: '',
      cell: (r) => (
        <span class="row-links">
          <a href={countHref(r)} aria-label={`Count ${r.code}`}>
            Count
          </a>
          {r.askedToday && <span class="quiet">on today's round</span>}
        </span>
      ),
    },
  ];
}

/** The counts in order, with what each would free and why. */
export function CountList({ rows, locale }: { rows: readonly CountNextRow[]; locale?: string }) {
  return (
    <DataTable
      caption="Cultures and what a count of each would free"
      hideCaption
      columns={columns(locale)}
      rows={rows}
      rowKey={(r) => r.code}
      rowTone={(r) => (!r.canGain ? 'needs-you' : undefined)}
    />
  );
}
