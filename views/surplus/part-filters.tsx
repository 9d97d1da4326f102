import { chosenOf, FilterBar } from '../layout/filter-bar.tsx';
import { chosenSpecies, SpeciesFilter } from '../layout/filter-choices.tsx';
import { ChoiceField, Field, SelectField } from '../layout/form.tsx';

type Option = { value: string; label: string };

export type SurplusFiltersProps = {
  /** The list's own address. */
  action: string;
  /** What the search looks through. */
  searched: string;
  filter: { q: string; species?: number | undefined; sort: string; show: string };
  species: { id: number; scientificName: string }[];
  sorts: readonly Option[];
  shows: readonly Option[];
};

/** What a list of what can be sold shows, and in which order. */
export function SurplusFilters({ action, searched, filter, species, sorts, shows }: SurplusFiltersProps) {
  const chosen = [
    filter.q && `“${filter.q}”`,
    chosenSpecies(species, filter.species),
    chosenOf(sorts, filter.sort),
    chosenOf(shows, filter.show),
  ];
  return (
    <FilterBar action={action} clearHref={action} chosen={chosen}>
      <Field label="Search" name="q" type="search" value={filter.q} help={searched} />
      <SpeciesFilter value={filter.species} species={species} />
      <SelectField label="Order by" name="sort" value={filter.sort} options={[...sorts]} />
      <ChoiceField label="Show" name="show" value={filter.show} options={[...shows]} />
    </FilterBar>
  );
}
