import { animalGroups } from '../../shared/species/columns.ts';
import { commonPracticeWords } from '../../shared/species/defaults.ts';
import {
  CheckField,
  checkOf,
  Field,
  FieldSet,
  type FormState,
  fieldOf,
  SelectField,
} from '../layout/form.tsx';
import { type Safety, StartSafety } from './part-safety.tsx';
import { groupWords } from './say.ts';

/** A number as this form asks for most of them. */
export function Amount(props: {
  form: FormState;
  name: string;
  label: string;
  unit?: string;
  help?: string;
  optional?: boolean;
}) {
  const { form, name, label, unit, help, optional } = props;
  return (
    <Field
      label={label}
      type="number"
      size="short"
      unit={unit}
      help={help}
      optional={optional}
      {...fieldOf(form, name)}
    />
  );
}

export function Names({ form }: { form: FormState }) {
  return (
    <FieldSet legend="Names">
      <div class="field-row">
        <Field label="Scientific name" maxLength={120} {...fieldOf(form, 'scientificName')} required />
        <Field label="Common name" maxLength={120} {...fieldOf(form, 'commonName')} optional />
        <SelectField
          label="Kind of animal"
          options={animalGroups.map((value) => ({ value, label: groupWords[value] }))}
          {...fieldOf(form, 'animalGroup')}
          required
        />
      </div>
    </FieldSet>
  );
}

const follow = {
  'hx-get': '/species/safety',
  'hx-trigger': 'change, input changed delay:400ms',
  'hx-target': '#start-safety',
  'hx-include': '#start-fields',
  'hx-sync': 'this:replace',
};

/** The starter group and the sexes stand together: how safe a start is follows from both. */
export function StarterGroup(props: {
  form: FormState;
  currency: string;
  safety: Safety | null;
  locale?: string;
  isNew: boolean;
}) {
  const { form, currency, safety, locale, isNew } = props;
  return (
    <div id="start-fields" {...follow}>
      <FieldSet legend="Starter group" help={isNew ? commonPracticeWords : undefined}>
        <CheckField label="Sold as a starter group" {...checkOf(form, 'sellable')} />
        <div class="field-row">
          <Amount form={form} name="groupAdults" label="Adults" />
          <Amount form={form} name="groupJuveniles" label="Juveniles" />
          <Amount
            form={form}
            name="groupExtras"
            label="Extras against losses"
            help="Go into the box on top."
          />
          <Amount
            form={form}
            name="price"
            label="Price of a group"
            unit={currency}
            help="Left empty: no price yet."
            optional
          />
        </div>
      </FieldSet>
      <FieldSet legend="Sexes" help={isNew ? commonPracticeWords : undefined}>
        <CheckField
          label="Females breed without males"
          {...checkOf(form, 'parthenogenetic')}
          help="Then the share of females and the males are not asked."
        />
        <div class="field-row">
          <Amount form={form} name="femalePercent" label="Females among the animals" unit="%" />
          <Amount form={form} name="startMales" label="Males a safe start needs" />
          <Amount form={form} name="startFemales" label="Females a safe start needs" />
        </div>
        <StartSafety safety={safety} locale={locale} />
      </FieldSet>
    </div>
  );
}
