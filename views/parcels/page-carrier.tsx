import { carrierWords, weekdayWords } from '../../shared/parcels/carrier-form.ts';
import { countryChoices } from '../../shared/settings/countries.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { firstWeekdayOf, weekdaysFrom } from '../../shared/settings/week.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  CheckField,
  ChoiceField,
  checkOf,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  manyOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import { defaultLocale } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { FigureField } from './part-figure-field.tsx';

export type CarrierFormPageProps = {
  furniture: Furniture;
  form: FormState;
  carrier: { id: number; name: string } | null;
  units: UnitSystem;
  currency: string;
  hubs: readonly { id: number; name: string }[];
  packedAt: string;
};

const daysFrom = (firstWeekday: number) =>
  weekdaysFrom(firstWeekday).map((day) => ({ value: String(day), label: weekdayWords[day] ?? '' }));

const optionsOf = (hubs: CarrierFormPageProps['hubs']) =>
  hubs.map(({ id, name }) => ({ value: String(id), label: name }));

const choicesOf = (hubs: CarrierFormPageProps['hubs']) => ({
  collectsOn: daysFrom(1),
  deliversOn: daysFrom(1),
  country: countryChoices(),
  hub: optionsOf(hubs),
});

function Days({ form, locale }: { form: FormState; locale?: string }) {
  const days = daysFrom(firstWeekdayOf(locale ?? defaultLocale));
  return (
    <FieldSet legend="Days">
      <ChoiceField
        multiple
        label="Days you send on"
        options={days}
        help="Early in the week, so that nothing lies over a weekend. A parcel that would lie idle on the way is never offered."
        {...manyOf(form, 'collectsOn')}
      />
      <ChoiceField
        multiple
        label="Days it carries and delivers"
        options={days}
        {...manyOf(form, 'deliversOn')}
      />
      <SelectField
        label="Public holidays of"
        options={countryChoices()}
        empty="Choose a country"
        {...fieldOf(form, 'country')}
        required
      />
      <Field
        label="Region of those holidays"
        size="short"
        maxLength={12}
        help="By its code, such as BY or ENG. Leave it empty for those of the whole country."
        {...fieldOf(form, 'region')}
        optional
      />
      <FigureField
        words={carrierWords}
        form={form}
        name="transitDays"
        unit="days"
        help="1: it arrives on the next working day."
      />
    </FieldSet>
  );
}

function Hours({ form, packedAt, units, hubs }: CarrierFormPageProps) {
  const degrees = units === 'us' ? '°F' : '°C';
  return (
    <FieldSet legend="Hours on the way">
      <Field
        label="Takes parcels until"
        type="time"
        size="short"
        help="Later on a day, that day is over."
        {...fieldOf(form, 'cutOff')}
        optional
      />
      <Field
        label="Delivered by"
        type="time"
        size="short"
        help="The latest on the day it arrives."
        {...fieldOf(form, 'deliveredBy')}
        required
      />
      <FigureField
        words={carrierWords}
        form={form}
        name="lateHours"
        unit="h"
        help="A late parcel is worked out too; usually a day."
      />
      <FigureField
        words={carrierWords}
        form={form}
        name="startHours"
        unit="h"
        help={`From closing the box at ${packedAt} until it reaches the hub.`}
      />
      <FigureField
        words={carrierWords}
        form={form}
        name="endHours"
        unit="h"
        help="From the hub to the door, the last van included."
      />
      <FigureField
        words={carrierWords}
        form={form}
        name="vanWarmer"
        unit={degrees}
        help="A van in the sun."
      />
      <FigureField words={carrierWords} form={form} name="porchHours" unit="h" />
      <SelectField
        label="Hub on the way"
        options={optionsOf(hubs)}
        empty="none: the weather where it arrives counts"
        {...fieldOf(form, 'hub')}
      />
    </FieldSet>
  );
}

/** A carrier's service: its days, its hours, and whether it holds parcels at a counter. */
export function CarrierFormPage(props: CarrierFormPageProps) {
  const { furniture, form, carrier, units, currency } = props;
  return (
    <Shell
      furniture={furniture}
      title={carrier ? `Edit ${carrier.name}` : 'New carrier'}
      purpose="One service of a carrier: on which days it takes parcels, how long they are on the way. Ask for its rules on live animals: they decide."
      breadcrumbs={[{ href: '/parcels/carriers', label: 'Carriers and habits' }]}
    >
      <Form
        furniture={furniture}
        action={carrier ? `/parcels/carriers/${carrier.id}/edit` : '/parcels/carriers'}
      >
        {carrier && <FilledFrom form={form} words={carrierWords} choices={choicesOf(props.hubs)} />}
        <ErrorSummary errors={form.errors} labels={carrierWords} />
        <Field label="Name" maxLength={80} {...fieldOf(form, 'name')} required />
        <Days form={form} locale={furniture.locale} />
        <Hours {...props} />
        <FieldSet legend="Held for pickup">
          <CheckField label="It holds parcels at a staffed counter" {...checkOf(form, 'mayHold')} />
          <FigureField words={carrierWords} form={form} name="holdPrice" unit={currency} optional />
          <FigureField words={carrierWords} form={form} name="counterHours" unit="h" optional />
          <FigureField
            words={carrierWords}
            form={form}
            name="counterTemp"
            unit={units === 'us' ? '°F' : '°C'}
            optional
          />
        </FieldSet>
        <TextAreaField
          label="Notes"
          rows={3}
          maxLength={500}
          help="Its rules on live animals, and when you asked."
          {...fieldOf(form, 'note')}
          optional
        />
        <Actions>
          <Button kind="main">{carrier ? 'Save' : 'Write it down'}</Button>
          <LinkButton href="/parcels/carriers">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
