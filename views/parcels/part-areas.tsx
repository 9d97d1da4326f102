import { countryChoices, countryName } from '../../shared/settings/countries.ts';
import { Actions, Button, PostButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { DataTable } from '../layout/table.tsx';

export type AreasProps = {
  furniture: Furniture;
  mayEdit: boolean;
  places: readonly { id: number; name: string; part: string }[];
  areas: readonly { id: number; country: string; postcodeStart: string; placeName: string }[];
  areaForm: FormState;
};

export const optionsOf = (list: readonly { id: number; name: string }[]) =>
  list.map(({ id, name }) => ({ value: String(id), label: name }));

const areaWords = { country: 'Country', postcode: 'Postcodes that begin with', place: 'Weather of' };

function AreaForm({ furniture, places, areaForm }: Pick<AreasProps, 'furniture' | 'places' | 'areaForm'>) {
  return (
    <Form furniture={furniture} action="/parcels/carriers/areas" ariaLabel="Add an area">
      <FilledFrom form={areaForm} words={areaWords} choices={{ place: optionsOf(places) }} />
      <ErrorSummary errors={areaForm.errors} formId={areaForm.id} labels={areaWords} />
      <SelectField
        label={areaWords.country}
        options={countryChoices()}
        empty="Choose a country"
        {...fieldOf(areaForm, 'country')}
        required
      />
      <Field
        label={areaWords.postcode}
        size="short"
        maxLength={12}
        help="Empty for all of the country. The longest beginning wins."
        {...fieldOf(areaForm, 'postcode')}
        optional
      />
      <SelectField
        label={areaWords.place}
        options={optionsOf(places)}
        empty="Choose a place"
        {...fieldOf(areaForm, 'place')}
        required
      />
      <Actions>
        <Button>Add</Button>
      </Actions>
    </Form>
  );
}

/** Whose weather counts where. */
export function Areas({ furniture, areas, places, areaForm, mayEdit }: AreasProps) {
  return (
    <section class="parcel-part" id="areas">
      <h2>Whose weather counts where</h2>
      {areas.length === 0 && <p>Nothing yet: every order needs its place of the weather by hand.</p>}
      {areas.length > 0 && (
        <DataTable
          caption="Whose weather counts where"
          hideCaption
          rows={areas}
          rowKey={({ id }) => id}
          columns={[
            { key: 'country', head: 'Country', rowHeader: true, cell: ({ country }) => countryName(country) },
            {
              key: 'start',
              head: 'Postcodes',
              cell: ({ postcodeStart }) =>
                postcodeStart === '' ? 'all others' : `begin with ${postcodeStart}`,
            },
            { key: 'place', head: 'Weather of', cell: ({ placeName }) => placeName },
            ...(mayEdit
              ? [
                  {
                    key: 'out',
                    head: 'Take out',
                    hideHead: true,
                    phoneLabel: '',
                    cell: (row: { id: number; country: string; postcodeStart: string }) => (
                      <PostButton
                        furniture={furniture}
                        action={`/parcels/carriers/areas/${row.id}/take-out`}
                        label="Take out"
                        ariaLabel={`Take out ${row.country} ${row.postcodeStart}`}
                        keyPart={`area-${row.id}`}
                        kind="quiet"
                      />
                    ),
                  },
                ]
              : []),
          ]}
        />
      )}
      {mayEdit && places.length > 0 && <AreaForm furniture={furniture} places={places} areaForm={areaForm} />}
    </section>
  );
}
