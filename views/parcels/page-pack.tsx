import { type PackKind, packFieldWords, packKindWords } from '../../shared/parcels/pack-form.ts';
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
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { FigureField } from './part-figure-field.tsx';

export type PackFormPageProps = {
  furniture: Furniture;
  kind: PackKind;
  form: FormState;
  /** The one that is edited; null makes a new one. */
  pack: { id: number; name: string } | null;
  units: UnitSystem;
  currency: string;
};

function Heat({ form }: { form: FormState }) {
  return (
    <FieldSet legend="Heat">
      <FigureField
        words={packFieldWords}
        form={form}
        name="watts"
        unit="W"
        help="In a box, with little air: less than on the hand."
      />
      <FigureField
        words={packFieldWords}
        form={form}
        name="hours"
        unit="h"
        help="In a tight box it is less than printed on it."
      />
      <FigureField
        words={packFieldWords}
        form={form}
        name="warmUp"
        unit="h"
        help="From packing until it gives its full power."
      />
    </FieldSet>
  );
}

function Melting({ form, units }: Pick<PackFormPageProps, 'form' | 'units'>) {
  const { temp } = fieldUnitsOf(units);
  return (
    <FieldSet legend="Melting">
      <FigureField
        words={packFieldWords}
        form={form}
        name="melting"
        unit={temp}
        help="It holds the box there while it melts or freezes."
      />
      <FigureField
        words={packFieldWords}
        form={form}
        name="latent"
        unit="kJ/kg"
        help="Water and ice: 333.6."
      />
      <FigureField
        words={packFieldWords}
        form={form}
        name="heatCapacity"
        unit="kJ/(kg K)"
        help="Water: 4.186; most waxes about 2.2."
      />
      <FigureField
        words={packFieldWords}
        form={form}
        name="startTemp"
        unit={temp}
        help="As it goes in. At its melting point it counts as frozen."
      />
    </FieldSet>
  );
}

export function PackFormPage({ furniture, kind, form, pack, units, currency }: PackFormPageProps) {
  return (
    <Shell
      furniture={furniture}
      title={pack ? `Edit ${pack.name}` : `New ${packKindWords[kind].toLowerCase()}`}
      purpose={
        kind === 'heat'
          ? 'Gives warmth for some hours.'
          : 'Holds a temperature while it melts or freezes: gel packs and phase-change packs.'
      }
      breadcrumbs={[{ href: '/parcels/stock', label: 'Boxes and packs' }]}
    >
      {kind === 'heat' && (
        <Notice tone="needs-you" word="Mind">
          A heat pack burns skin and uses up oxygen. Tape it under the lid with paper between, never against
          the cups, with air to it. In mild weather it kills.
        </Notice>
      )}
      <Form furniture={furniture} action={pack ? `/parcels/packs/${pack.id}/edit` : '/parcels/packs'}>
        {pack && <FilledFrom form={form} words={packFieldWords} />}
        <ErrorSummary errors={form.errors} labels={packFieldWords} />
        <input type="hidden" name="kind" value={kind} />
        <Field label="Name" maxLength={80} {...fieldOf(form, 'name')} required />
        <FigureField words={packFieldWords} form={form} name="mass" unit={massUnitOf(units)} />
        {kind === 'heat' ? <Heat form={form} /> : <Melting form={form} units={units} />}
        <FieldSet legend="Where it may sit">
          <FigureField
            words={packFieldWords}
            form={form}
            name="smallestBox"
            unit="L"
            help="In a smaller box it has no air or no room."
            optional
          />
          <FigureField words={packFieldWords} form={form} name="most" unit="packs" optional />
        </FieldSet>
        <FieldSet legend="Stock">
          <FigureField words={packFieldWords} form={form} name="price" unit={currency} optional />
          <Field
            label="Number left"
            inputMode="numeric"
            size="short"
            help="Leave it empty if you do not count them."
            {...fieldOf(form, 'left')}
            optional
          />
        </FieldSet>
        <Field label="Where the figures come from" maxLength={200} {...fieldOf(form, 'source')} optional />
        <TextAreaField label="Notes" rows={2} maxLength={500} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">{pack ? 'Save' : 'Write it down'}</Button>
          <LinkButton href="/parcels/stock">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
