import { weatherParts, weatherPartWords, weatherPlaceWords } from '../../shared/parcels/weather-form.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ChoiceField, ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type WeatherPlaceFormPageProps = {
  furniture: Furniture;
  form: FormState;
  place: { id: number; name: string } | null;
};

const parts = weatherParts.map((value) => ({ value, ...weatherPartWords[value] }));

export function WeatherPlaceFormPage({ furniture, form, place }: WeatherPlaceFormPageProps) {
  return (
    <Shell
      furniture={furniture}
      title={place ? `Edit ${place.name}` : 'New place'}
      purpose="A place parcels come through, with its coordinates."
      breadcrumbs={[{ href: '/parcels/weather', label: 'Weather on the way' }]}
    >
      <Form furniture={furniture} action={place ? `/parcels/weather/${place.id}/edit` : '/parcels/weather'}>
        {place && <FilledFrom form={form} words={weatherPlaceWords} choices={{ part: parts }} />}
        <ErrorSummary errors={form.errors} labels={weatherPlaceWords} />
        <Field label="Name" maxLength={80} {...fieldOf(form, 'name')} required />
        <Field
          label="Postcode or town"
          maxLength={80}
          help="For people; nothing is looked up by it."
          {...fieldOf(form, 'label')}
          optional
        />
        <ChoiceField label="What it is" options={parts} {...fieldOf(form, 'part')} required />
        <Field
          label="Latitude"
          inputMode="decimal"
          size="short"
          unit="°"
          help="North is positive: 52.5. Two decimals are enough."
          {...fieldOf(form, 'latitude')}
          required
        />
        <Field
          label="Longitude"
          inputMode="decimal"
          size="short"
          unit="°"
          help="East is positive: 13.4, and -74 for 74 west."
          {...fieldOf(form, 'longitude')}
          required
        />
        <Actions>
          <Button kind="main">{place ? 'Save' : 'Write it down'}</Button>
          <LinkButton href="/parcels/weather">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
