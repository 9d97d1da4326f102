import { countryChoices } from '../../shared/settings/countries.ts';
import { languageNames, languages } from '../../shared/settings/languages.ts';
import { currencies, numberFormChoices } from '../../shared/settings/regions.ts';
import { Actions, Button } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { BusinessBasics, businessLabels, paperChoices, unitChoices } from './part-business-fields.tsx';

const languageChoices = languages.map((value) => ({ value, label: languageNames[value] }));

const allBusinessLabels = {
  ...businessLabels,
  address: 'Postal address',
  email: 'E-mail',
  locale: 'Numbers and dates',
  language: 'Language of new customers',
};

const choicesOf = (form: FormState) => ({
  country: countryChoices(),
  currency: currencies(),
  units: unitChoices,
  paper: paperChoices,
  locale: numberFormChoices(String(fieldOf(form, 'locale').value ?? '')),
  language: languageChoices,
});

export type BusinessPageProps = {
  furniture: Furniture;
  form: FormState;
};

export function BusinessPage({ furniture, form }: BusinessPageProps) {
  const locale = fieldOf(form, 'locale');
  return (
    <Shell
      furniture={furniture}
      title="The business"
      purpose="Name and address stand on every paper; time zone, units, currency and language decide how everything is written."
      breadcrumbs={[{ href: '/settings', label: 'Settings' }]}
    >
      <Form furniture={furniture} action="/settings/business">
        <FilledFrom form={form} words={allBusinessLabels} choices={choicesOf(form)} />
        <ErrorSummary errors={form.errors} labels={allBusinessLabels} />
        <BusinessBasics form={form} />
        <SelectField
          label={allBusinessLabels.locale}
          required
          options={numberFormChoices(String(locale.value ?? ''))}
          help="How they are written on pages and papers; pick the example that reads right to you."
          {...locale}
        />
        <ChoiceField
          label={allBusinessLabels.language}
          required
          options={languageChoices}
          help="Each customer and each order can have another. Your own pages are in English."
          {...fieldOf(form, 'language')}
        />
        <FieldSet legend="On papers in the box">
          <TextAreaField
            label={allBusinessLabels.address}
            optional
            rows={4}
            maxLength={500}
            autocomplete="street-address"
            {...fieldOf(form, 'address')}
          />
          <Field
            label={allBusinessLabels.email}
            type="email"
            optional
            maxLength={254}
            autocomplete="email"
            {...fieldOf(form, 'email')}
          />
        </FieldSet>
        <Actions>
          <Button kind="main">Save</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
