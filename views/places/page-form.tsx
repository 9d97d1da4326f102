import { type PlaceKind, placeFieldWords, placeKinds, placeKindWords } from '../../shared/places/form.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { parentOptions } from './page-places.tsx';
import type { PlaceRow } from './part-tree.tsx';

export type PlaceFormPageProps = {
  furniture: Furniture;
  form: FormState;
  place: { id: number; kind: PlaceKind; name: string; fullName: string };
  places: PlaceRow[];
};

export function PlaceFormPage({ furniture, form, place, places }: PlaceFormPageProps) {
  const larger = places.filter(
    (row) => placeKinds.indexOf(row.kind) < placeKinds.indexOf(place.kind) && row.id !== place.id,
  );
  return (
    <Shell
      furniture={furniture}
      title={`Change ${place.fullName}`}
      purpose={`A ${placeKindWords[place.kind].one}. Whatever stands in it moves along.`}
      breadcrumbs={[{ href: '/places', label: 'Places' }]}
    >
      <Form furniture={furniture} action={`/places/${place.id}/edit`}>
        <FilledFrom form={form} words={placeFieldWords} choices={{ parentId: parentOptions(larger) }} />
        <ErrorSummary errors={form.errors} labels={placeFieldWords} />
        <Field label="Name" maxLength={80} {...fieldOf(form, 'name')} required />
        {place.kind !== 'room' && (
          <SelectField
            label="Stands in"
            empty="Choose a place"
            options={parentOptions(larger)}
            {...fieldOf(form, 'parentId')}
            help="Moved elsewhere, it comes last there; put it in its turn on the list of places."
            required
          />
        )}
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/places">Leave</LinkButton>
        </Actions>
      </Form>
      <section class="slip apart">
        <h2>No longer used?</h2>
        <p>It goes from the lists, with all that stands in it. Cultures on it must be moved first.</p>
        <PostButton
          furniture={furniture}
          action={`/places/${place.id}/retire`}
          label={`Retire ${place.name}`}
          keyPart="retire"
        />
      </section>
    </Shell>
  );
}
