import { Code, Latin } from '../layout/code.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import { type Column, DataTable } from '../layout/table.tsx';

/** What the groups entered on a page take from a culture, and what stays of its spare animals. */
export type CultureLeft = {
  id: number;
  code: string;
  place: string | null;
  scientificName: string;
  /** Animals that can go while enough stay, and those that were promised before. */
  promisable: number;
  promised: number;
  /** Animals it can spare before, those taken, those left; below 0 when too many are taken. */
  spare: number;
  taken: number;
  left: number;
  /** The effective size that is left, where that is small. */
  smallEffective: number | null;
  /** Orders that take from it. */
  orders: readonly number[];
};

const width = 160;
const height = 18;

/** What it can spare as a bar, the part that is taken in ink; all bars of a species have one scale. */
function SpareBar({ spare, taken, most }: { spare: number; taken: number; most: number }) {
  const x = (animals: number) =>
    Math.round((Math.min(animals, most) / Math.max(most, 1)) * (width - 2) * 10) / 10;
  return (
    <svg
      class="spare-bar"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      aria-hidden="true"
      focusable="false"
    >
      <rect class="spare-all" x={1} y={3} width={x(spare)} height={height - 6} />
      <rect class="spare-taken" x={1} y={3} width={x(Math.min(taken, spare))} height={height - 6} />
      {taken > spare && (
        <rect
          class="spare-over"
          x={1 + x(spare)}
          y={6}
          width={Math.max(4, x(taken) - x(spare))}
          height={height - 12}
        />
      )}
    </svg>
  );
}

function LeftCell({ row, locale }: { row: CultureLeft; locale?: string }) {
  return (
    <>
      {row.left < 0 ? `${formatCount(-row.left, 'animal')} too few` : formatNumber(row.left, locale)}
      {row.smallEffective !== null && (
        <span class="quiet cell-note">
          an effective size of about {formatNumber(row.smallEffective, locale)}
        </span>
      )}
    </>
  );
}

function columnsFor(rows: readonly CultureLeft[], locale?: string): Column<CultureLeft>[] {
  const most = new Map<string, number>();
  for (const { scientificName, spare, taken } of rows)
    most.set(scientificName, Math.max(most.get(scientificName) ?? 0, spare, taken));
  const orders = new Set(rows.flatMap((row) => row.orders));
  const columns: Column<CultureLeft>[] = [
    {
      key: 'code',
      head: 'Culture',
      cell: (row) => (
        <>
          <Code href={`/cultures/${row.code}`}>{row.code}</Code>
          <span class="cell-note quiet">
            <Latin>{row.scientificName}</Latin>
          </span>
        </>
      ),
    },
    { key: 'place', head: 'Place', cell: (row) => row.place ?? 'no place' },
    {
      key: 'spare',
      head: 'Could spare',
      numeric: true,
      computed: 'surplus',
      cell: (row) => formatNumber(row.spare, locale),
    },
    {
      key: 'taken',
      head: 'Taken',
      numeric: true,
      computed: 'allocation',
      cell: (row) => formatNumber(row.taken, locale),
    },
    {
      key: 'left',
      head: 'Left',
      numeric: true,
      computed: 'surplus',
      cell: (row) => <LeftCell row={row} locale={locale} />,
    },
    {
      key: 'bar',
      head: 'Taken of what it could spare',
      phoneWide: true,
      cell: (row) => (
        <SpareBar spare={row.spare} taken={row.taken} most={most.get(row.scientificName) ?? 1} />
      ),
    },
  ];
  if (orders.size > 1)
    columns.push({ key: 'orders', head: 'For orders', cell: (row) => row.orders.join(', ') });
  return columns;
}

/** What is left in each culture that gives, in animals that could be promised. */
export function Leaves({ rows, locale }: { rows: readonly CultureLeft[]; locale?: string }) {
  if (rows.length === 0) return null;
  return (
    <section class="leaves">
      <h2>What it leaves</h2>
      <p class="quiet">Spare animals: what must stay in a culture is not counted in.</p>
      <DataTable
        caption="What it leaves in each culture"
        hideCaption
        columns={columnsFor(rows, locale)}
        rows={rows}
        rowKey={(row) => row.id}
        rowTone={(row) => (row.left < 0 ? 'harm' : undefined)}
      />
    </section>
  );
}
