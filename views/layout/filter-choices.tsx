import { SelectField } from './form.tsx';

type Chosen = { value: number | string | undefined };

/** One species of a list, or all. */
export function SpeciesFilter(
  props: Chosen & { species: readonly { id: number; scientificName: string }[] },
) {
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
export function PlaceFilter(props: Chosen & { places: readonly { id: number; name: string }[] }) {
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
