import { SelectField } from './form.tsx';

type NamedSpecies = readonly { id: number; scientificName: string }[];
type NamedPlaces = readonly { id: number; name: string }[];

/** The chosen species' name, for a folded bar. */
export const chosenSpecies = (species: NamedSpecies, id: number | undefined) =>
  species.find((one) => one.id === id)?.scientificName;

/** The chosen place's name, for a folded bar. */
export const chosenPlace = (places: NamedPlaces, id: number | undefined) =>
  places.find((one) => one.id === id)?.name;

type Chosen = { value: number | string | undefined };

/** One species of a list, or all. */
export function SpeciesFilter(props: Chosen & { species: NamedSpecies }) {
  return (
    <SelectField
      label="Species"
      name="species"
      value={props.value ?? ''}
      options={[
        { value: '', label: 'All species' },
        ...props.species.map((s) => ({ value: String(s.id), label: s.scientificName })),
      ]}
    />
  );
}

/** One place of a list, or all. */
export function PlaceFilter(props: Chosen & { places: NamedPlaces }) {
  return (
    <SelectField
      label="Place"
      name="place"
      value={props.value ?? ''}
      options={[
        { value: '', label: 'All places' },
        ...props.places.map((p) => ({ value: String(p.id), label: p.name })),
      ]}
    />
  );
}
