import { groupsField } from '../../shared/orders/form.ts';
import { Code } from '../layout/code.tsx';
import { Field, type FormState, fieldOf } from '../layout/form.tsx';
import { formatCount, formatDay, formatNumber } from '../layout/format.ts';
import { Ago, Estimate } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import type { OrderLineRow } from './order-lines.tsx';

/** A culture that animals of a line could come from. */
export type Candidate = {
  id: number;
  code: string;
  line: string | null;
  place: string | null;
  median: number | null;
  lower: number | null;
  upper: number | null;
  /** Days since the last count; null when it was never counted. */
  countedDaysAgo: number | null;
  spareGroups: number;
  spareAnimals: number;
  /** When it can spare a group more, if that can be foreseen. */
  readyOn: string | null;
  limitedBy: string | null;
  /** The effective size that one group less leaves, where that is small. */
  smallEffective: number | null;
  /** Why it must not fill this line beside what fills it already. */
  apart: string | null;
  /** The one somebody came from. */
  chosen: boolean;
  /** What stays of its spare animals without the groups entered on the page; null where that is not shown. */
  leaves: { groups: number; animals: number; smallEffective: number | null } | null;
};

function EstimateCell({ row, locale }: { row: Candidate; locale?: string }) {
  if (row.median === null || row.lower === null || row.upper === null) return <>not known</>;
  return (
    <Estimate
      median={row.median}
      lower={row.lower}
      upper={row.upper}
      locale={locale}
      ageDays={row.countedDaysAgo ?? undefined}
    />
  );
}

/** What holds a culture back, in words, and when it is over. */
function limitWords(row: Candidate, locale?: string): string {
  const reasons: Record<string, string> = {
    'count too old': 'its count is too old',
    reserve: 'the rest is its reserve',
    adults: 'too few adults',
    promised: 'the rest is promised',
    health: 'its health',
  };
  const why = row.limitedBy ? (reasons[row.limitedBy] ?? row.limitedBy) : '';
  const when = row.readyOn ? `a group more about ${formatDay(row.readyOn, locale, 'month-day')}` : '';
  return [why, when].filter(Boolean).join('; ');
}

function spareWords(row: Candidate, locale?: string) {
  const limit = limitWords(row, locale);
  return (
    <>
      {row.spareGroups > 0 ? <strong>{formatCount(row.spareGroups, 'group')}</strong> : 'no group'}
      <span class="quiet"> ({formatCount(row.spareAnimals, 'animal')})</span>
      {limit && row.spareGroups === 0 && <span class="quiet cell-note">{limit}</span>}
      {row.apart && <span class="cell-note">{row.apart}</span>}
      {row.smallEffective !== null && row.spareGroups > 0 && row.leaves === null && (
        <span class="quiet cell-note">
          a group less leaves an effective size of about {formatNumber(row.smallEffective, locale)}
        </span>
      )}
    </>
  );
}

/** What stays of what it can spare, if the groups entered on this page are taken. */
function leavesWords({ leaves }: Candidate, locale?: string) {
  if (!leaves) return null;
  if (leaves.animals < 0) return <>{formatCount(-leaves.animals, 'animal')} too few</>;
  return (
    <>
      {leaves.groups > 0 ? formatCount(leaves.groups, 'group') : 'no group'}
      <span class="quiet"> ({formatCount(leaves.animals, 'animal')})</span>
      {leaves.smallEffective !== null && (
        <span class="quiet cell-note">
          an effective size of about {formatNumber(leaves.smallEffective, locale)}
        </span>
      )}
    </>
  );
}

/** What is known of its number. */
function numberColumns(locale?: string): Column<Candidate>[] {
  return [
    { key: 'estimate', head: 'Animals', cell: (row) => <EstimateCell row={row} locale={locale} /> },
    {
      key: 'counted',
      head: 'Counted',
      cell: (row) => (row.countedDaysAgo === null ? 'never' : <Ago days={row.countedDaysAgo} />),
    },
  ];
}

function columnsFor({ line, rows, form, locale, brief }: CandidatesProps): Column<Candidate>[] {
  const showsLeaves = rows.some((row) => row.leaves !== null);
  return [
    {
      key: 'code',
      head: 'Culture',
      cell: (row) => (
        <>
          <Code href={`/cultures/${row.code}`}>{row.code}</Code>
          {row.line && <span class="quiet"> {row.line}</span>}
          {row.chosen && <span class="quiet cell-note">You came from this one.</span>}
        </>
      ),
    },
    { key: 'place', head: 'Place', cell: (row) => row.place ?? 'no place' },
    ...(brief ? [] : numberColumns(locale)),
    { key: 'spare', head: 'Can spare', computed: 'surplus', cell: (row) => spareWords(row, locale) },
    ...(showsLeaves
      ? [
          {
            key: 'leaves',
            head: 'Leaves',
            computed: 'surplus' as const,
            cell: (row: Candidate) => leavesWords(row, locale),
          },
        ]
      : []),
    {
      key: 'take',
      head: 'Reserve',
      phoneWide: true,
      cell: (row) => (
        <Field
          label={`Groups of ${line.scientificName} from ${row.code}`}
          hideLabel
          {...fieldOf(form, groupsField(line.id, row.id))}
          type="number"
          inputMode="numeric"
          size="short"
          unit="groups"
        />
      ),
    },
  ];
}

export type CandidatesProps = {
  line: OrderLineRow;
  rows: readonly Candidate[];
  form: FormState;
  caption: string;
  locale?: string;
  /** Leaves out how many live in each and when they were counted. */
  brief?: boolean;
};

/** Cultures beside a line of an order, each with a box for groups. */
export function Candidates(props: CandidatesProps) {
  return (
    <DataTable
      caption={props.caption}
      hideCaption
      columns={columnsFor(props)}
      rows={props.rows}
      rowKey={(row) => row.id}
      class="reserve-table"
    />
  );
}
