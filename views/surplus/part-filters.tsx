import type { SurplusFilter } from '../../shared/surplus/filter.ts';
import { chosenOf, FilterBar } from '../layout/filter-bar.tsx';
import { chosenSpecies, SpeciesFilter } from '../layout/filter-choices.tsx';
import { ChoiceField, Field, SelectField } from '../layout/form.tsx';

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

/** What the surplus review shows, and in which order. */
export function SurplusFilters({
  filter,
  species,
}: {
  filter: SurplusFilter;
  species: { id: number; scientificName: string }[];
}) {
  const chosen = [
    filter.q && `“${filter.q}”`,
    chosenSpecies(species, filter.species),
    chosenOf(sortOptions, filter.sort),
    chosenOf(showOptions, filter.show),
  ];
  return (
    <FilterBar action="/surplus" clearHref="/surplus" chosen={chosen}>
      <Field label="Search" name="q" type="search" value={filter.q} help="Code, morph or line" />
      <SpeciesFilter value={filter.species} species={species} />
      <SelectField label="Order by" name="sort" value={filter.sort} options={sortOptions} />
      <ChoiceField label="Show" name="show" value={filter.show} options={showOptions} />
    </FilterBar>
  );
}
