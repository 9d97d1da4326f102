import { placeFieldWords, placeKinds, placeKindWords } from '../../shared/places/form.ts';
import { Actions, Button } from '../layout/button.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Form,
  type FormState,
  fieldOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type PlaceRow, PlacesTree } from './part-tree.tsx';

export type PlacesPageProps = { furniture: Furniture; rows: PlaceRow[]; form: FormState; mayEdit: boolean };

/** What a place may stand in: everything in use but a position. */
export function parentOptions(rows: readonly PlaceRow[]) {
  return rows
    .filter((row) => !row.retired && row.kind !== 'position')
    .map((row) => ({ value: String(row.id), label: row.fullName }));
}

function AddPlaces({ furniture, rows, form }: Omit<PlacesPageProps, 'mayEdit'>) {
  return (
    <section id="add" class="slip beside">
      <h2>Add places</h2>
      <Form furniture={furniture} action="/places">
        <ErrorSummary errors={form.errors} labels={placeFieldWords} />
        <ChoiceField
          label="What"
          options={placeKinds.map((kind) => ({ value: kind, label: placeKindWords[kind].many }))}
          {...fieldOf(form, 'kind')}
          required
        />
        <SelectField
          label="Stands in"
          empty="Nothing larger (a room)"
          options={parentOptions(rows)}
          {...fieldOf(form, 'parentId')}
        />
        <TextAreaField
          label="Names"
          rows={4}
          {...fieldOf(form, 'names')}
          help="One a line, in the order you walk past them. Several at once is fine."
          required
        />
        <Actions>
          <Button kind="main">Add</Button>
        </Actions>
      </Form>
    </section>
  );
}

export function PlacesPage(props: PlacesPageProps) {
  const { furniture, rows, mayEdit } = props;
  return (
    <Shell
      furniture={furniture}
      title="Places"
      purpose="Rooms, racks, shelves and positions, in the order you walk past them. The round and the pick list follow it."
      width="wide"
      breadcrumbs={mayEdit ? [{ href: '/settings', label: 'Settings' }] : []}
    >
      <div class="columns columns-main">
        <div>
          {rows.length === 0 ? (
            <p class="empty-title">
              {mayEdit
                ? 'No places yet. Begin with the rooms.'
                : 'No places yet. The owner writes them down.'}
            </p>
          ) : (
            <PlacesTree furniture={furniture} rows={rows} mayEdit={mayEdit} />
          )}
        </div>
        {mayEdit && <AddPlaces {...props} />}
      </div>
    </Shell>
  );
}
