import { countryChoices } from '../../shared/settings/countries.ts';
import { currencies, type Named, timeZones } from '../../shared/settings/regions.ts';
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

/** What is usual in the country that was chosen, for what is left open. */
export type Usual = {
  country: string;
  /** Its different clocks; with one alone there is nothing to ask. */
  zones: Named[];
  currency: string | null;
  units: 'metric' | 'us';
  paper: 'A4' | 'Letter';
};

export type BusinessBasicsProps = {
  form: FormState;
  /** Given at the set-up, where these may be left to the country; null while none is chosen. */
  usual?: Usual | null;
};

const labelIn = (options: readonly { value: string; label: string }[], value: string | null | undefined) =>
  options.find((option) => option.value === value)?.label;

function emptyZone(usual: Usual | null | undefined): string {
  if (usual === undefined) return 'Choose a time zone';
  if (!usual) return 'As the country has it';
  const [zone, ...others] = usual.zones;
  if (!zone || others.length > 0) return 'Choose the town nearest to you';
  return `As in ${usual.country}: ${zone.label}`;
}

function TimeZoneField({ form, usual }: BusinessBasicsProps) {
  const groups = timeZones();
  const own = usual && usual.zones.length > 1 ? [{ group: usual.country, options: usual.zones }] : [];
  const shown = new Set(own.flatMap(({ options }) => options.map(({ value }) => value)));
  const others = groups.map(({ group, options }) => ({
    group,
    options: options.filter(({ value }) => !shown.has(value)),
  }));
  return (
    <SelectField
      label={businessLabels.timeZone}
      required={usual === undefined}
      empty={emptyZone(usual)}
      options={[...own, ...others]}
      help="Says when a day begins and ends, for what is due."
      {...fieldOf(form, 'timeZone')}
    />
  );
}

function CurrencyField({ form, usual }: BusinessBasicsProps) {
  const options = currencies();
  const there = usual ? labelIn(options, usual.currency) : undefined;
  const asThere = usual && there ? `As in ${usual.country}: ${there}` : 'Choose a currency';
  return (
    <SelectField
      label={businessLabels.currency}
      required={usual === undefined}
      empty={usual === null ? 'As the country has it' : asThere}
      options={options}
      help="For prices and orders."
      {...fieldOf(form, 'currency')}
    />
  );
}

function MeasureFields({ form, usual }: BusinessBasicsProps) {
  const open = (label: string | undefined) =>
    usual === undefined
      ? []
      : [{ value: '', label: 'As in the country', help: label ?? 'once it is chosen' }];
  const chosen = (name: string) => {
    const field = fieldOf(form, name);
    return usual === undefined ? field : { ...field, value: field.value ?? '' };
  };
  return (
    <>
      <ChoiceField
        label={businessLabels.units}
        required
        options={[...open(labelIn(unitChoices, usual?.units)), ...unitChoices]}
        {...chosen('units')}
      />
      <ChoiceField
        label={businessLabels.paper}
        required
        options={[...open(labelIn(paperChoices, usual?.paper)), ...paperChoices]}
        {...chosen('paper')}
      />
    </>
  );
}

/** Choosing the country says at once what is usual there; without JavaScript the answer to the form does. */
const follow = {
  'hx-get': '/set-up',
  'hx-trigger': 'change',
  'hx-target': '#by-country',
  'hx-select': '#by-country',
  'hx-swap': 'outerHTML',
  'hx-include': '#by-country, [name=token]',
  'hx-sync': 'this:replace',
};

/** What is asked at the set-up and can be changed in the settings. */
export function BusinessBasics({ form, usual }: BusinessBasicsProps) {
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
        options={countryChoices()}
        help={
          usual === undefined
            ? undefined
            : 'The rest follows from it; choose otherwise where it does not fit.'
        }
        {...fieldOf(form, 'country')}
        {...(usual === undefined ? {} : follow)}
      />
      <div id="by-country" data-follows={usual === undefined ? undefined : ''}>
        <TimeZoneField form={form} usual={usual} />
        <CurrencyField form={form} usual={usual} />
        <MeasureFields form={form} usual={usual} />
      </div>
    </>
  );
}
