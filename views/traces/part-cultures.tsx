import type { Contact } from '../../shared/lines/form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { Code, Latin } from '../layout/code.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { dayWriter, wayWords } from './say.ts';

/** A culture that had contact, and the way that shows it. */
export type TracedRowData = {
  id: number;
  code: string;
  status: 'active' | 'quarantine' | 'retired';
  scientificName: string;
  place: string | null;
  health: string;
  /** The first day it can have been reached, or the last on which it can have passed something on. */
  onDay: string;
  /** Empty for the culture that the trace begins at. */
  way: readonly Contact[];
};

export type TracedTableProps = {
  caption: string;
  rows: readonly TracedRowData[];
  dayHead: string;
  /** The culture the trace begins at, and what is said of it in place of a way. */
  own: { code: string; words: string };
  today: string;
  locale?: string;
  /** The cultures that are ticked, where they can be put in quarantine; null where not. */
  chosen: ReadonlySet<number> | null;
};

const standing = (row: TracedRowData): string => {
  if (row.status === 'retired') return 'retired';
  if (row.status === 'quarantine') return 'in quarantine';
  return healthWords[row.health] ?? row.health;
};

function Tick({ row, chosen }: { row: TracedRowData; chosen: ReadonlySet<number> }) {
  if (row.status !== 'active') return null;
  return (
    <label class="trace-tick">
      <input
        type="checkbox"
        name="chosen"
        value={row.id}
        checked={chosen.has(row.id)}
        aria-label={`Put ${row.code} in quarantine`}
      />
    </label>
  );
}

function columnsOf(props: TracedTableProps): Column<TracedRowData>[] {
  const { own, chosen, dayHead, today, locale } = props;
  const day = dayWriter(today, locale);
  const tick: Column<TracedRowData> = {
    key: 'tick',
    head: 'Tick',
    phoneLabel: 'Quarantine',
    cell: (row) => (
      <>
        {chosen && <Tick row={row} chosen={chosen} />}
        <span class="tick-box" />
      </>
    ),
  };
  return [
    {
      key: 'code',
      head: 'Culture',
      rowHeader: true,
      cell: (row) => (
        <>
          <Code href={cultureHref(row.code)}>{row.code}</Code> <Latin>{row.scientificName}</Latin>
        </>
      ),
    },
    { key: 'place', head: 'Place', cell: (row) => row.place ?? 'no place' },
    {
      key: 'day',
      head: dayHead,
      computed: 'trace',
      cell: (row) => <span class="nowrap">{day(row.onDay)}</span>,
    },
    {
      key: 'way',
      head: 'Way',
      phoneWide: true,
      cell: (row) => (row.code === own.code ? own.words : wayWords(row.way, day)),
    },
    { key: 'now', head: 'Now', cell: standing },
    chosen ? tick : { ...tick, head: 'Looked at', hideHead: true, phoneLabel: '' },
  ];
}

/** Cultures with the way to each; on paper a list with a box to tick for whoever walks along the shelves. */
export function TracedTable(props: TracedTableProps) {
  return (
    <DataTable
      class="traced"
      caption={props.caption}
      hideCaption
      columns={columnsOf(props)}
      rows={props.rows}
      rowKey={(row) => row.id}
      rowTone={(row) => (row.status === 'active' && row.health !== 'well' ? 'needs-you' : undefined)}
    />
  );
}
