import { cupFieldWords } from '../../shared/documents/cup-form.ts';
import { massUnitOf } from '../../shared/parcels/typed-mass.ts';
import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type CupFormPageProps = {
  furniture: Furniture;
  form: FormState;
  /** The one that is edited; null makes a new one. */
  cup: { id: number; name: string } | null;
  units: UnitSystem;
};

export function CupFormPage({ furniture, form, cup, units }: CupFormPageProps) {
  const measure = (name: string, more: { required?: boolean; optional?: boolean; help?: string }) => (
    <Field
      label={cupFieldWords[name] ?? name}
      inputMode="decimal"
      size="short"
      unit={fieldUnitsOf(units).length}
      {...fieldOf(form, name)}
      {...more}
    />
  );
  return (
    <Shell
      furniture={furniture}
      title={cup ? `Edit ${cup.name}` : 'New cup'}
      purpose="Its measures say how many go into a box and whether a pack has air over them."
      breadcrumbs={[{ href: '/cups', label: 'Cups and padding' }]}
    >
      <Form furniture={furniture} action={cup ? `/cups/${cup.id}/edit` : '/cups'}>
        {cup && <FilledFrom form={form} words={cupFieldWords} />}
        <ErrorSummary errors={form.errors} labels={cupFieldWords} />
        <Field label="Name" maxLength={80} {...fieldOf(form, 'name')} required />
        <FieldSet legend="Measures" help="Outside, with the lid on.">
          {measure('length', { required: true })}
          {measure('width', { optional: true, help: 'Leave it empty for a round or square cup.' })}
          {measure('height', { required: true })}
        </FieldSet>
        <Field
          label={cupFieldWords.emptyMass ?? ''}
          inputMode="decimal"
          size="short"
          unit={massUnitOf(units)}
          help="With its lid. Leave it empty if you have not weighed it."
          {...fieldOf(form, 'emptyMass')}
          optional
        />
        <TextAreaField label="Notes" rows={2} maxLength={500} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">{cup ? 'Save' : 'Write it down'}</Button>
          <LinkButton href="/cups">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
