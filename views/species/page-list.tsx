import type { AnimalGroup, SpeciesFigures } from '../../shared/species/columns.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { CheckField, Field } from '../layout/form.tsx';
import { formatCount, formatMoney } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { groupWords, starterGroupWords } from './say.ts';

export type SpeciesRow = Pick<
  SpeciesFigures,
  'groupAdults' | 'groupJuveniles' | 'groupExtras' | 'priceMinor' | 'sellable' | 'checkEveryDays'
> & {
  id: number;
  scientificName: string;
  commonName: string;
  animalGroup: AnimalGroup;
  active: number;
  quarantine: number;
};

export type SpeciesListPageProps = {
  furniture: Furniture;
  rows: SpeciesRow[];
  filter: { words: string; retired: boolean };
  hasAny: boolean;
  retiredCount: number;
  currency: string;
  mayEdit: boolean;
};

export function priceWords(
  { sellable, priceMinor }: Pick<SpeciesFigures, 'sellable' | 'priceMinor'>,
  currency: string,
  locale?: string,
): string {
  if (!sellable) return 'not for sale';
  return priceMinor === 0 ? 'no price yet' : formatMoney(priceMinor, currency, locale);
}

function columns({ currency, furniture }: SpeciesListPageProps): Column<SpeciesRow>[] {
  return [
    {
      key: 'name',
      head: 'Species',
      rowHeader: true,
      cell: (row) => (
        <>
          <a href={`/species/${row.id}`}>
            <Latin>{row.scientificName}</Latin>
          </a>
          {row.commonName && <small class="under"> {row.commonName}</small>}
        </>
      ),
    },
    { key: 'group', head: 'Kind', cell: (row) => groupWords[row.animalGroup] },
    {
      key: 'cultures',
      head: 'Cultures',
      numeric: true,
      cell: (row) => (
        <>
          {row.active + row.quarantine > 0 ? (
            <a href={`/cultures?species=${row.id}`}>{row.active + row.quarantine}</a>
          ) : (
            '0'
          )}
          {row.quarantine > 0 && <small class="under"> {row.quarantine} in quarantine</small>}
        </>
      ),
    },
    { key: 'starter', head: 'Starter group', phoneWide: true, cell: starterGroupWords },
    {
      key: 'price',
      head: 'Price of a group',
      numeric: true,
      cell: (row) => priceWords(row, currency, furniture.locale),
    },
    { key: 'check', head: 'Check', cell: (row) => everyWords(row.checkEveryDays) },
  ];
}

export const everyWords = (days: number) => (days === 1 ? 'every day' : `every ${days} days`);

/** The first step of a fresh installation. */
function NoSpecies({ furniture, mayEdit }: SpeciesListPageProps) {
  if (!mayEdit) return <Empty title="No species yet. The owner writes them down." />;
  return (
    <Empty title="No species yet.">
      <p>
        Begin with species that many keepers have, each with a care text, its substrate layers, temperature
        limits and cautions. Every figure is common practice or from memory, without a source: make it yours.
      </p>
      <div class="actions">
        <PostButton
          furniture={furniture}
          action="/species/starter-set"
          label="Start with common species"
          kind="main"
        />
        <LinkButton href="/species/new">Write down one of your own</LinkButton>
      </div>
    </Empty>
  );
}

function Filters({ filter, retiredCount }: SpeciesListPageProps) {
  const filtered = filter.words !== '' || filter.retired;
  return (
    <FilterBar action="/species" submit="Search" clearHref={filtered ? '/species' : undefined}>
      <Field label="Any name of it" name="words" type="search" value={filter.words} />
      {retiredCount > 0 && (
        <CheckField label="Show the retired ones" name="retired" checked={filter.retired} />
      )}
    </FilterBar>
  );
}

export function SpeciesListPage(props: SpeciesListPageProps) {
  const { furniture, rows, filter, hasAny, mayEdit } = props;
  return (
    <Shell
      furniture={furniture}
      title="Species"
      purpose="What you keep, how it is kept, and what you sell as a starter group."
      width="wide"
      actions={
        hasAny && (
          <>
            {mayEdit && (
              <LinkButton href="/species/new" kind="main">
                New species
              </LinkButton>
            )}
            <LinkButton href="/lines">Lines</LinkButton>
          </>
        )
      }
    >
      {!hasAny ? (
        <NoSpecies {...props} />
      ) : (
        <>
          <Filters {...props} />
          {rows.length === 0 ? (
            <Empty
              title={filter.retired ? 'No retired species fits.' : 'No species fits.'}
              step={{ href: '/species', label: 'Show all species' }}
            />
          ) : (
            <DataTable
              caption={formatCount(
                rows.length,
                filter.retired ? 'retired species' : 'species',
                filter.retired ? 'retired species' : 'species',
              )}
              columns={columns(props)}
              rows={rows}
              rowKey={(row) => row.id}
            />
          )}
        </>
      )}
    </Shell>
  );
}
