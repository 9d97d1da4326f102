import type { Believed } from '../../shared/counts/trend.ts';
import type { Purity } from '../../shared/lines/page-apart.ts';
import { Trend } from '../counts/part-trend.tsx';
import { LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { SelectField } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type LineTrend, sayLine } from './say-worked-out.ts';

export type LineRow = {
  id: number;
  speciesId: number;
  scientificName: string;
  name: string;
  locality: string;
  note: string;
  keptPure: Purity;
  /** The names of the lines it is never mixed with. */
  neverWith: string | null;
  cultures: number;
  /** How many animals it was believed to have, over the last half year; left out where nobody looked. */
  trend?: readonly Believed[];
  /** Its cultures on the last of these days. */
  parts?: LineTrend['parts'];
};

export type SpeciesName = { id: number; scientificName: string; commonName: string };

export type LinesPageProps = {
  furniture: Furniture;
  rows: LineRow[];
  species: SpeciesName[];
  chosen: SpeciesName | null;
  mayEdit: boolean;
};

/** What a line may be mixed with, as far as it is marked. */
function apartWords({ keptPure, neverWith }: LineRow): string {
  const pure = { no: '', line: 'kept pure', locality: 'within its locality only' }[keptPure];
  return [pure, neverWith && `never with ${neverWith}`].filter(Boolean).join('; ');
}

type LineColumnsOptions = { mayEdit: boolean; withSpecies: boolean; withTrend?: boolean; locale?: string };

/** The columns of a list of lines; a page of one species leaves the species out. */
export function lineColumns(options: LineColumnsOptions): Column<LineRow>[] {
  const { mayEdit, withSpecies, withTrend = false, locale } = options;
  const named: Column<LineRow> = {
    key: 'name',
    head: 'Line',
    rowHeader: true,
    cell: (row) => (mayEdit ? <a href={`/lines/${row.id}/edit`}>{row.name}</a> : row.name),
  };
  const species: Column<LineRow> = {
    key: 'species',
    head: 'Species',
    cell: (row) => (
      <a href={`/species/${row.speciesId}`}>
        <Latin>{row.scientificName}</Latin>
      </a>
    ),
  };
  const trend: Column<LineRow> = {
    key: 'trend',
    head: 'Animals, half a year',
    computed: 'population',
    cell: (row) => <Trend points={row.trend ?? []} locale={locale} />,
  };
  return [
    named,
    ...(withSpecies ? [species] : []),
    {
      key: 'locality',
      head: 'Locality',
      cell: (row) => row.locality || <span class="quiet">not known</span>,
    },
    { key: 'cultures', head: 'Cultures', numeric: true, cell: (row) => row.cultures },
    ...(withTrend ? [trend] : []),
    { key: 'apart', head: 'Mixed', phoneWide: true, cell: apartWords },
    { key: 'note', head: 'Note', phoneWide: true, cell: (row) => row.note },
    {
      key: 'graph',
      head: 'Graph',
      hideHead: true,
      phoneLabel: '',
      cell: (row) => (
        <span class="row-links">
          <a href={`/lines/graph?line=${row.id}`} aria-label={`Splits and mixings of line ${row.name}`}>
            Splits and mixings
          </a>
        </span>
      ),
    },
  ];
}

function NoLines({ species, mayEdit, newHref }: LinesPageProps & { newHref: string }) {
  if (species.length === 0)
    return (
      <Empty
        title="Lines belong to a species: write one down first."
        step={{ href: '/species', label: 'To the species' }}
      />
    );
  return (
    <Empty
      title="No lines yet."
      step={mayEdit ? { href: newHref, label: 'Write down the first line' } : undefined}
    />
  );
}

function Filter({ species, chosen }: Pick<LinesPageProps, 'species' | 'chosen'>) {
  return (
    <FilterBar action="/lines" clearHref={chosen ? '/lines' : undefined}>
      <SelectField
        label="Species"
        name="species"
        value={chosen?.id ?? ''}
        empty="All species"
        options={species.map((s) => ({ value: String(s.id), label: s.scientificName }))}
      />
    </FilterBar>
  );
}

const headingOf = (chosen: SpeciesName) => (
  <>
    Lines of <Latin>{chosen.scientificName}</Latin>
  </>
);

const hasPoints = ({ trend = [] }: LineRow) => trend.length > 1;

export function LinesPage(props: LinesPageProps) {
  const { furniture, rows, species, chosen, mayEdit } = props;
  const hasTrend = rows.some(hasPoints);
  const newHref = chosen ? `/lines/new?species=${chosen.id}` : '/lines/new';
  return (
    <Shell
      furniture={furniture}
      title={chosen ? `Lines of ${chosen.scientificName}` : 'Lines'}
      heading={chosen ? headingOf(chosen) : undefined}
      purpose="Cultures that descend from the same founders, and where those came from."
      width="wide"
      breadcrumbs={[
        { href: '/species', label: 'Species' },
        ...(chosen ? [{ href: `/species/${chosen.id}`, label: chosen.scientificName }] : []),
      ]}
      actions={
        species.length > 0 && (
          <>
            {mayEdit && (
              <LinkButton href={newHref} kind="main">
                New line
              </LinkButton>
            )}
            <LinkButton href={chosen ? `/lines/graph?species=${chosen.id}` : '/lines/graph'}>
              Splits and mixings
            </LinkButton>
          </>
        )
      }
    >
      {species.length > 0 && <Filter species={species} chosen={chosen} />}
      {rows.length === 0 ? (
        <NoLines {...props} newHref={newHref} />
      ) : (
        <DataTable
          caption={formatCount(rows.length, 'line')}
          columns={lineColumns({
            mayEdit,
            withSpecies: !chosen,
            withTrend: hasTrend,
            locale: furniture.locale,
          })}
          rows={rows}
          rowKey={(row) => row.id}
        />
      )}
      {hasTrend && <WorkedOut of="population" so={sayLine(rows.find(hasPoints), furniture.locale)} />}
      {rows.length > 0 && (
        <PaperFoot furniture={furniture}>
          Animals: all cultures of the line that are kept, worked out from counts and growth, over the last
          half year; the band holds the truth nine times in ten.
        </PaperFoot>
      )}
    </Shell>
  );
}
