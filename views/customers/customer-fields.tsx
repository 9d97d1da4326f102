import { countryChoices } from '../../shared/settings/countries.ts';
import { languageNames, languages } from '../../shared/settings/languages.ts';
import {
  ChoiceField,
  Field,
  FieldSet,
  type FormState,
  fieldOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';

export const customerLabels: Record<string, string> = {
  name: 'Name',
  email: 'E-mail',
  phone: 'Telephone',
  street: 'Street',
  postcode: 'Postcode',
  city: 'Town',
  region: 'State or region',
  country: 'Country',
  units: 'Units',
  paper: 'Paper',
  language: 'Language',
  note: 'Note',
  retired: 'Put away',
};

export const unitWords = { metric: 'Metric (°C, ml, cm)', us: 'US (°F, cups, inches)' } as const;
export const paperWords = { A4: 'A4', Letter: 'US Letter' } as const;

const optionsOf = (words: Record<string, string>) =>
  Object.entries(words).map(([value, label]) => ({ value, label }));

/** What may be chosen, by the names of the fields. */
export const customerChoices = {
  country: countryChoices(),
  language: languages.map((value) => ({ value, label: languageNames[value] })),
  units: optionsOf(unitWords),
  paper: optionsOf(paperWords),
  retired: [
    { value: 'yes', label: 'yes' },
    { value: '', label: 'no' },
  ],
};

const label = (name: string) => customerLabels[name] ?? name;

type FieldsProps = { form: FormState };

function Address({ form }: FieldsProps) {
  return (
    <FieldSet legend="Where the box goes">
      <TextAreaField
        label={label('street')}
        {...fieldOf(form, 'street')}
        rows={3}
        maxLength={300}
        help="As many lines as the label needs."
      />
      <div class="field-row">
        <Field label={label('postcode')} {...fieldOf(form, 'postcode')} size="short" maxLength={20} />
        <Field label={label('city')} {...fieldOf(form, 'city')} maxLength={120} />
      </div>
      <div class="field-row">
        <Field label={label('region')} {...fieldOf(form, 'region')} maxLength={120} optional />
        <SelectField
          label={label('country')}
          {...fieldOf(form, 'country')}
          empty="Choose a country"
          options={customerChoices.country}
        />
      </div>
    </FieldSet>
  );
}

function Papers({ form }: FieldsProps) {
  return (
    <FieldSet
      legend="What they read"
      help="Care sheets in the box, mails and their own page are written this way."
    >
      <ChoiceField
        label={label('language')}
        {...fieldOf(form, 'language')}
        options={customerChoices.language}
      />
      <div class="field-row">
        <ChoiceField label={label('units')} {...fieldOf(form, 'units')} options={customerChoices.units} />
        <ChoiceField label={label('paper')} {...fieldOf(form, 'paper')} options={customerChoices.paper} />
      </div>
    </FieldSet>
  );
}

/** The fields of a customer, as on a parcel's label. */
export function CustomerFields({ form }: FieldsProps) {
  return (
    <>
      <FieldSet legend="Who">
        <Field
          label={label('name')}
          {...fieldOf(form, 'name')}
          size="long"
          maxLength={200}
          help="As it stands on the parcel."
        />
        <div class="field-row">
          <Field label={label('email')} {...fieldOf(form, 'email')} type="email" maxLength={254} optional />
          <Field label={label('phone')} {...fieldOf(form, 'phone')} type="tel" maxLength={60} optional />
        </div>
      </FieldSet>
      <Address form={form} />
      <Papers form={form} />
      <TextAreaField
        label={label('note')}
        {...fieldOf(form, 'note')}
        rows={3}
        maxLength={2000}
        optional
        help="For yourself; it is not printed."
      />
    </>
  );
}
