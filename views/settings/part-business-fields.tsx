import { countries } from '../../shared/settings/countries.ts';
import { currencies, timeZones } from '../../shared/settings/regions.ts';
import { ChoiceField, Field, type FormState, fieldOf, SelectField } from '../layout/form.tsx';

export const businessLabels = {
  businessName: 'Name of the business',
  country: 'Country',
  timeZone: 'Time zone',
  currency: 'Currency',
  units: 'Units',
  paper: 'Paper',
};

export const unitChoices = [
  { value: 'metric', label: 'Metric', help: '°C, cm, g, litres' },
  { value: 'us', label: 'US', help: '°F, inches, ounces, quarts' },
];

export const paperChoices = [
  { value: 'A4', label: 'A4', help: '210 by 297 mm' },
  { value: 'Letter', label: 'Letter', help: '8½ by 11 in' },
];

/** What is asked at the set-up and can be changed in the settings. */
export function BusinessBasics({ form }: { form: FormState }) {
  return (
    <>
      <Field
        label={businessLabels.businessName}
        autocomplete="organization"
        required
        maxLength={120}
        help="Stands on every page and on papers."
        {...fieldOf(form, 'businessName')}
      />
      <SelectField
        label={businessLabels.country}
        required
        empty="Choose a country"
        options={countries().map(({ code, name }) => ({ value: code, label: name }))}
        {...fieldOf(form, 'country')}
      />
      <SelectField
        label={businessLabels.timeZone}
        required
        empty="Choose a time zone"
        options={timeZones()}
        help="Says when a day begins and ends, for what is due."
        {...fieldOf(form, 'timeZone')}
      />
      <SelectField
        label={businessLabels.currency}
        required
        empty="Choose a currency"
        options={currencies()}
        help="For prices and orders."
        {...fieldOf(form, 'currency')}
      />
      <ChoiceField label={businessLabels.units} required options={unitChoices} {...fieldOf(form, 'units')} />
      <ChoiceField label={businessLabels.paper} required options={paperChoices} {...fieldOf(form, 'paper')} />
    </>
  );
}
