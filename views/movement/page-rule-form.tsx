import { ruleFieldWords } from '../../shared/movement/form.ts';
import { ruleBorders, ruleEffects } from '../../shared/movement/rule.ts';
import { whoDecides } from '../../shared/movement/say.ts';
import { countryChoices } from '../../shared/settings/countries.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  type OptionGroup,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { borderWords, effectWords } from './say.ts';

export type RuleFormPageProps = {
  furniture: Furniture;
  form: FormState;
  rule: { id: number; name: string } | null;
  /** Groups, genera and species that a rule can be about. */
  animals: readonly OptionGroup[];
};

const borders = ruleBorders.map((value) => ({ value, label: borderWords[value] }));
const effects = ruleEffects.map((value) => ({ value, label: effectWords[value] }));

const choicesOf = (animals: readonly OptionGroup[]) => ({
  fromCountry: countryChoices(),
  toCountry: countryChoices(),
  border: borders,
  effect: effects,
  about: animals.flatMap(({ options }) => options),
});

const label = (name: string) => ruleFieldWords[name] ?? name;
type FieldsProps = { form: FormState };

function Way({ form }: FieldsProps) {
  const choices = countryChoices();
  const end = (which: 'from' | 'to') => (
    <div class="field-row">
      <SelectField
        label={label(`${which}Country`)}
        {...fieldOf(form, `${which}Country`)}
        empty="Anywhere"
        options={choices}
      />
      <Field
        label={label(`${which}Region`)}
        {...fieldOf(form, `${which}Region`)}
        maxLength={80}
        optional
        help="Name or code of a state or region; empty for the whole country."
      />
    </div>
  );
  return (
    <FieldSet legend="The way">
      {end('from')}
      {end('to')}
      <ChoiceField label={label('border')} {...fieldOf(form, 'border')} options={borders} />
    </FieldSet>
  );
}

function Permit({ form }: FieldsProps) {
  return (
    <FieldSet
      legend="The permit"
      help="Only for a rule that asks for one. Without its number, or after its end, the rule blocks."
    >
      <div class="field-row">
        <Field label={label('permitNumber')} {...fieldOf(form, 'permitNumber')} maxLength={80} optional />
        <Field
          label={label('permitExpiresOn')}
          {...fieldOf(form, 'permitExpiresOn')}
          type="date"
          optional
          help="Its last valid day."
        />
      </div>
    </FieldSet>
  );
}

/** A movement rule, new or changed. */
export function RuleFormPage({ furniture, form, rule, animals }: RuleFormPageProps) {
  return (
    <Shell
      furniture={furniture}
      title={rule ? `Change ${rule.name}` : 'New movement rule'}
      purpose={whoDecides}
      breadcrumbs={[{ href: '/movement', label: 'Movement rules' }]}
    >
      <Form furniture={furniture} action={rule ? `/movement/${rule.id}/edit` : '/movement'}>
        {rule && <FilledFrom form={form} words={ruleFieldWords} choices={choicesOf(animals)} />}
        <ErrorSummary errors={form.errors} labels={ruleFieldWords} />
        <Field label={label('name')} {...fieldOf(form, 'name')} maxLength={80} required />
        <ChoiceField label={label('effect')} {...fieldOf(form, 'effect')} options={effects} required />
        <Way form={form} />
        <SelectField label={label('about')} {...fieldOf(form, 'about')} options={animals} required />
        <TextAreaField
          label={label('words')}
          {...fieldOf(form, 'words')}
          rows={4}
          maxLength={1000}
          required
        />
        <Field
          label={label('source')}
          {...fieldOf(form, 'source')}
          maxLength={300}
          required
          help="Law, section, page or office, so that it can be read again."
        />
        <Field
          label={label('checkedOn')}
          {...fieldOf(form, 'checkedOn')}
          type="date"
          optional
          help="The day you last read it there. While this is empty the rule only warns."
        />
        <Permit form={form} />
        <Actions>
          <Button kind="main">{rule ? 'Save' : 'Write it down'}</Button>
          <LinkButton href="/movement">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
