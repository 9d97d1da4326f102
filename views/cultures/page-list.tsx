import type { Believed } from '../../shared/counts/trend.ts';
import type { CultureFilter } from '../../shared/cultures/form.ts';
import { Trend } from '../counts/part-trend.tsx';
import { LinkButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { chosenOf, FilterBar } from '../layout/filter-bar.tsx';
import { chosenPlace, chosenSpecies, PlaceFilter, SpeciesFilter } from '../layout/filter-choices.tsx';
import { Field, SelectField } from '../layout/form.tsx';
import { formatAgo, formatInTen } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Pager } from '../layout/pager.tsx';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { MorphAndLine, NumberCell } from './part-cells.tsx';
import { healthWords, type Known, spareOf } from './say.ts';
import { type ExampleCulture, sayExample } from './say-example.ts';

export type CultureRow = {
  code: string;
  morph: string;
  status: string;
  scientificName: string;
  commonName: string;
  line: string | null;
  place: string | null;
  estimate:
    | (Known & {
        reserve: number | null;
        capacityMedian: number | null;
        lastCountOn: string | null;
        lastCheckOn: string | null;
      })
    | null;
  countedDaysAgo: number | null;
  checkedDaysAgo: number | null;
  /** How many were believed to be in there, over the last half year. */
  trend: readonly Believed[];
};

export type CultureListProps = {
  furniture: Furniture;
  filter: CultureFilter;
  rows: CultureRow[];
  total: number;
  pageSize: number;
  species: { id: number; scientificName: string }[];
  places: { id: number; name: string }[];
  hasAny: boolean;
  /** One row with all that its numbers come from. */
  example: ExampleCulture | null;
};

export const cultureHref = (code: string) => `/cultures/${encodeURIComponent(code)}`;

function addressOf(
  filter: CultureFilter,
  changes: Partial<Record<keyof CultureFilter, string | number | undefined>>,
) {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries({ ...filter, page: undefined, ...changes })) {
    if (value !== undefined && value !== '') query.set(name, String(value));
  }
  return `/cultures?${query}`;
}

/** How many are in there, now and over the last half year. */
function animalColumns(sort: Column<CultureRow>['sort'], locale: string | undefined): Column<CultureRow>[] {
  return [
    {
      key: 'animals',
      head: 'Animals',
      sort,
      cell: (r) => <NumberCell known={r.estimate} countedDaysAgo={r.countedDaysAgo} locale={locale} />,
    },
    {
      key: 'trend',
      computed: 'population',
      head: 'Half a year',
      cell: (r) => <Trend points={r.trend} locale={locale} />,
    },
  ];
}

function columns(filter: CultureFilter, locale: string | undefined): Column<CultureRow>[] {
  const sort = (by: CultureFilter['sort']) => {
    const now = filter.sort === by ? (filter.down ? ('down' as const) : ('up' as const)) : null;
    return { href: addressOf(filter, { sort: by, down: now === 'up' ? '1' : undefined }), direction: now };
  };
  return [
    {
      key: 'code',
      head: 'Code',
      rowHeader: true,
      sort: sort('code'),
      cell: (r) => <Code href={cultureHref(r.code)}>{r.code}</Code>,
    },
    {
      key: 'species',
      head: 'Species',
      sort: sort('species'),
      cell: (r) => (
        <>
          <Latin>{r.scientificName}</Latin>
          <MorphAndLine morph={r.morph} line={r.line} />
        </>
      ),
    },
    { key: 'place', head: 'Place', sort: sort('place'), cell: (r) => r.place ?? 'no place yet' },
    ...animalColumns(sort('animals'), locale),
    {
      key: 'fullness',
      computed: 'population',
      head: 'Full',
      sort: sort('fullness'),
      cell: (r) =>
        r.estimate?.fullnessMedian == null ? (
          ''
        ) : (
          <span class="nowrap">{formatInTen(r.estimate.fullnessMedian)}</span>
        ),
    },
    {
      key: 'spare',
      head: 'Spare',
      computed: 'surplus',
      cell: (r) => (r.estimate ? spareOf(r.estimate) : ''),
    },
    {
      key: 'health',
      head: 'Health',
      cell: (r) => (r.status === 'retired' ? 'retired' : healthWords[r.estimate?.health ?? 'well']),
    },
    {
      key: 'checked',
      head: 'Last check',
      sort: sort('checked'),
      cell: (r) =>
        r.checkedDaysAgo === null ? 'never' : <span class="nowrap">{formatAgo(r.checkedDaysAgo)}</span>,
    },
  ];
}

const statusOptions = [
  { value: 'current', label: 'All kept now' },
  { value: 'active', label: 'Active' },
  { value: 'quarantine', label: 'In quarantine' },
  { value: 'retired', label: 'Retired' },
];

function Filters({ filter, species, places }: Pick<CultureListProps, 'filter' | 'species' | 'places'>) {
  const chosen = [
    filter.q && `“${filter.q}”`,
    chosenSpecies(species, filter.species),
    chosenPlace(places, filter.place),
    chosenOf(statusOptions, filter.status),
  ];
  return (
    <FilterBar action="/cultures" keep={{ sort: filter.sort }} clearHref="/cultures" chosen={chosen}>
      <Field
        label="Search"
        name="q"
        type="search"
        value={filter.q}
        help="Code, species, morph, line or place"
      />
      <SpeciesFilter value={filter.species} species={species} />
      <PlaceFilter value={filter.place} places={places} />
      <SelectField label="Status" name="status" value={filter.status} options={statusOptions} />
    </FilterBar>
  );
}

const ListActions = () => (
  <>
    <LinkButton href="/cultures/new" kind="main">
      New culture
    </LinkButton>
    <LinkButton href="/round/map">The racks</LinkButton>
    <LinkButton href="/labels">Print labels</LinkButton>
    <LinkButton href="/substrate">Substrate to mix</LinkButton>
  </>
);

function HowListed({ rows, example, furniture }: CultureListProps) {
  const trend = rows.find(({ code }) => code === example?.code)?.trend;
  return (
    <WorkedOut of={['population', 'surplus']} so={sayExample(example, { trend, locale: furniture.locale })} />
  );
}

export function CultureListPage(props: CultureListProps) {
  const { furniture, filter, rows, total, pageSize, hasAny } = props;
  return (
    <Shell
      furniture={furniture}
      title="Cultures"
      purpose="Every culture with what is known of it, in the order you walk past them."
      width="wide"
      actions={<ListActions />}
    >
      {hasAny ? (
        <>
          <Filters {...props} />
          {rows.length === 0 ? (
            <Empty
              title="No culture fits these filters."
              step={{ href: '/cultures', label: 'Show all cultures' }}
            />
          ) : (
            <DataTable
              caption="Cultures"
              hideCaption
              class="dense"
              columns={columns(filter, furniture.locale)}
              rows={rows}
              rowKey={(r) => r.code}
              rowTone={(r) =>
                r.status === 'quarantine' || r.estimate?.health === 'mites' ? 'needs-you' : undefined
              }
            />
          )}
          <Pager
            page={filter.page}
            pageSize={pageSize}
            total={total}
            href={(page) => addressOf(filter, { page })}
            what="cultures"
            locale={furniture.locale}
          />
          <HowListed {...props} />
          <PaperFoot furniture={furniture}>
            Animals: worked out from counts and growth, nine times in ten within the brackets; beside it the
            last half year. Full: what fits in there. Spare: what can go today without harm to the colony.
          </PaperFoot>
        </>
      ) : (
        <Empty
          title="No cultures yet."
          step={{ href: '/cultures/new', label: 'Write down the first culture' }}
        >
          <p>
            If you have lists already, <a href="/records">bring your records</a> instead.
          </p>
        </Empty>
      )}
    </Shell>
  );
}
