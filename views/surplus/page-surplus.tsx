import type { SurplusFilter } from '../../shared/surplus/filter.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { MorphAndLine, NumberCell } from '../cultures/part-cells.tsx';
import { healthWords, limitedByWords } from '../cultures/say.ts';
import type { ExampleCulture } from '../cultures/say-example.ts';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatAgo, formatCount, formatInTen, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { Computed } from '../layout/worked-out.tsx';
import { formatF } from '../lines/say.ts';
import { SurplusFilters } from './part-filters.tsx';
import { HowSurplus, SurplusFoot } from './part-how-surplus.tsx';
import { Rest } from './part-rest.tsx';
import { SurplusTabs } from './part-tabs.tsx';

export type SurplusRow = {
  id: number;
  code: string;
  morph: string;
  line: string | null;
  place: string | null;
  promised: number;
  fault: string | null;
  median: number | null;
  lower: number | null;
  upper: number | null;
  fullnessMedian: number | null;
  capacityMedian: number | null;
  reserve: number | null;
  spareGroups: number;
  readyOn: string | null;
  limitedBy: string | null;
  health: string;
  countedDaysAgo: number | null;
  /** Its mean kinship with the kept cultures of its species; null where it is not asked for or says nothing. */
  meanKinship: number | null;
};

export type SpeciesGroup = {
  speciesId: number;
  scientificName: string;
  commonName: string;
  /** Those that are shown, of so many. */
  rows: SurplusRow[];
  cultures: number;
  groupsNow: number;
  /** Cultures that will have one more group within the weeks ahead. */
  readySoon: number;
  /** Right end of the scale of the drawn intervals, the same for the species' rows. */
  scale: number;
};

export type SurplusPageProps = {
  furniture: Furniture;
  filter: SurplusFilter;
  species: { id: number; scientificName: string }[];
  groups: SpeciesGroup[];
  pageSize: number;
  hrefOf: (changed: { species?: number; page?: number }) => string;
  groupsNow: number;
  readySoon: number;
  soonOn: string;
  cultures: number;
  hasAny: boolean;
  /** One row with all that its numbers come from. */
  example: ExampleCulture | null;
  mayOrder: boolean;
  /** The estimates are of an earlier day and being brought up to today. */
  catchingUp: boolean;
};

function Work({ row, mayOrder }: { row: SurplusRow; mayOrder: boolean }) {
  const at = cultureHref(row.code);
  return (
    <span class="row-links">
      <a href={`${at}/count`} aria-label={`Count ${row.code}`}>
        Count
      </a>
      <a href={`${at}/split`} aria-label={`Split ${row.code}`}>
        Split
      </a>
      {mayOrder && row.spareGroups > 0 && (
        <a
          href={`/orders/new?culture=${encodeURIComponent(row.code)}`}
          aria-label={`Reserve from ${row.code}`}
        >
          Reserve
        </a>
      )}
    </span>
  );
}

function Spare({ row }: { row: SurplusRow }) {
  if (row.spareGroups > 0)
    return <strong data-computed="surplus">{formatCount(row.spareGroups, 'group')}</strong>;
  return <span class="quiet">none{row.limitedBy ? `: ${limitedByWords(row.limitedBy)}` : ''}</span>;
}

/** What is in it. */
function stockColumns(scale: number, locale?: string): Column<SurplusRow>[] {
  return [
    {
      key: 'code',
      head: 'Culture',
      rowHeader: true,
      cell: (r) => (
        <>
          <Code href={cultureHref(r.code)}>{r.code}</Code>
          <MorphAndLine morph={r.morph} line={r.line} />
        </>
      ),
    },
    {
      key: 'animals',
      head: 'Animals',
      phoneWide: true,
      cell: (r) => <NumberCell known={r} countedDaysAgo={r.countedDaysAgo} scale={scale} locale={locale} />,
    },
    {
      key: 'full',
      head: 'Full',
      computed: 'population',
      cell: (r) =>
        r.fullnessMedian === null ? '' : <span class="nowrap">{formatInTen(r.fullnessMedian)}</span>,
    },
    {
      key: 'reserve',
      head: 'Must stay',
      computed: 'surplus',
      numeric: true,
      cell: (r) => (r.reserve === null ? '' : formatNumber(Math.ceil(r.reserve), locale)),
    },
    { key: 'promised', head: 'Promised', numeric: true, cell: (r) => formatNumber(r.promised, locale) },
  ];
}

/** How common its genes are, when that is what the list is ordered by. */
const commonColumn = (locale?: string): Column<SurplusRow> => ({
  key: 'common',
  head: 'Mean kinship',
  computed: 'kinship',
  numeric: true,
  cell: (r) => (r.meanKinship === null ? '' : formatF(r.meanKinship, locale)),
});

/** What it can give. */
function spareColumns(mayOrder: boolean, locale?: string): Column<SurplusRow>[] {
  return [
    { key: 'spare', head: 'Can spare now', cell: (r) => <Spare row={r} /> },
    {
      key: 'ready',
      head: 'Next group',
      computed: 'surplus',
      cell: (r) =>
        r.readyOn ? (
          <span class="nowrap">
            <Day iso={r.readyOn} locale={locale} />
          </span>
        ) : (
          <span class="quiet">not in sight</span>
        ),
    },
    {
      key: 'count',
      head: 'Last count',
      cell: (r) => (
        <span class="nowrap">{r.countedDaysAgo === null ? 'never' : formatAgo(r.countedDaysAgo)}</span>
      ),
    },
    { key: 'health', head: 'Health', cell: (r) => healthWords[r.health] },
    {
      key: 'work',
      head: 'Do',
      hideHead: true,
      phoneLabel: '',
      cell: (r) => <Work row={r} mayOrder={mayOrder} />,
    },
  ];
}

const sortOptions = [
  { value: 'spare', label: 'Most to spare' },
  { value: 'ready', label: 'Next group first' },
  { value: 'animals', label: 'Most animals' },
  { value: 'fullness', label: 'Fullest' },
  { value: 'count', label: 'Oldest count' },
  { value: 'common', label: 'Commonest genes first' },
  { value: 'code', label: 'Code' },
];

const showOptions = [
  { value: 'all', label: 'All' },
  { value: 'spare', label: 'Spare now' },
  { value: 'soon', label: 'Soon' },
  { value: 'held', label: 'Held for health' },
  { value: 'stale', label: 'Count too old' },
];

function summary(p: SurplusPageProps): string {
  const now = `${formatCount(p.groupsNow, 'starter group')} spare today`;
  const soon = p.readySoon > 0 ? `; ${formatCount(p.readySoon, 'culture')} will have one more soon` : '';
  return `${now} from ${formatCount(p.cultures, 'culture')}${soon}.`;
}

function SpeciesGroup({
  group: g,
  ...props
}: { group: SurplusPageProps['groups'][number] } & SurplusPageProps) {
  const { filter, mayOrder, soonOn } = props;
  const { locale } = props.furniture;
  return (
    <section aria-labelledby={`species-${g.speciesId}`} class="species-group">
      <h2 id={`species-${g.speciesId}`}>
        <Latin>{g.scientificName}</Latin> {g.commonName && <span class="quiet">{g.commonName}</span>}
      </h2>
      <p>
        <Computed of="surplus">
          <strong>{formatCount(g.groupsNow, 'group')} now</strong>
          {g.readySoon > 0 && (
            <>
              , {formatCount(g.readySoon, 'culture')} with one more by <Day iso={soonOn} locale={locale} />
            </>
          )}
        </Computed>
      </p>
      <DataTable
        class="dense"
        caption={`${g.scientificName}: cultures and what they can spare`}
        hideCaption
        columns={[
          ...stockColumns(g.scale, locale),
          ...(filter.sort === 'common' ? [commonColumn(locale)] : []),
          ...spareColumns(mayOrder, locale),
        ]}
        rows={g.rows}
        rowKey={(r) => r.code}
        rowTone={(r) => (r.limitedBy === 'health' || r.fault !== null ? 'needs-you' : undefined)}
      />
      <Rest group={g} {...props} />
    </section>
  );
}

export function SurplusPage(props: SurplusPageProps) {
  const { furniture, groups, hasAny, mayOrder, catchingUp } = props;
  return (
    <Shell
      furniture={furniture}
      title="Surplus"
      purpose="Which cultures can spare starter groups today without harm, and which will soon."
      width="wide"
    >
      <SurplusTabs current="spare" mayOrder={mayOrder} />
      {!hasAny ? (
        <Empty
          title="Nothing to sell from yet."
          step={{ href: '/cultures/new', label: 'Write down a culture' }}
        >
          <p>A culture appears here when its species is marked as sold.</p>
        </Empty>
      ) : (
        <>
          <p data-computed="surplus" class="verdict">
            {summary(props)}
          </p>
          {catchingUp && <p class="quiet">Some numbers are being worked out anew; look again in a moment.</p>}
          <SurplusFilters
            action="/surplus"
            searched="Code, morph or line"
            filter={props.filter}
            species={props.species}
            sorts={sortOptions}
            shows={showOptions}
          />
          <HowSurplus example={props.example} locale={furniture.locale} />
          {groups.length === 0 && (
            <Empty title="No culture fits these filters." step={{ href: '/surplus', label: 'Show all' }} />
          )}
          {groups.map((group) => (
            <SpeciesGroup key={group.speciesId} group={group} {...props} />
          ))}
          <SurplusFoot furniture={furniture} />
        </>
      )}
    </Shell>
  );
}
