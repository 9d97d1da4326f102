import {
  enclosureFieldWords,
  lengthUnits,
  type MeasureField,
  measures,
  shapes,
  shapeWords,
  unitField,
} from '../../shared/enclosures/form.ts';
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
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { EnclosurePreview, type EnclosurePreviewProps } from './part-preview.tsx';

export type EnclosureFormPageProps = {
  furniture: Furniture;
  form: FormState;
  /** The one that is edited; null makes a new one. */
  enclosure: { id: number; name: string; measured: boolean } | null;
  preview: EnclosurePreviewProps['preview'];
  units: EnclosurePreviewProps['units'];
};

const unitOptions = lengthUnits.map((value) => ({ value, label: value }));

const follow = {
  'hx-get': '/enclosures/preview',
  'hx-trigger': 'change, input changed delay:400ms',
  'hx-target': '#enclosure-preview',
  'hx-include': '#enclosure-form',
  'hx-sync': 'this:replace',
};

function Measure({ form, field, label }: { form: FormState; field: MeasureField; label: string }) {
  const unit = fieldOf(form, unitField(field));
  return (
    <Field
      label={label}
      type="number"
      size="short"
      unit={{ name: unit.name, value: String(unit.value ?? 'mm'), options: unitOptions }}
      {...fieldOf(form, field)}
    />
  );
}

const shapeChoices = shapes.map((value) => ({ value, ...shapeWords[value] }));

/** Each measure names the shapes that have it; the style hides those of the other shapes. */
function Measures({ form }: { form: FormState }) {
  return (
    <div {...follow}>
      <ChoiceField label="Shape" options={shapeChoices} {...fieldOf(form, 'shape')} required />
      <FieldSet
        legend="Measures"
        help="Measured inside, wall to wall. Only those of the chosen shape are read."
      >
        <div class="measures">
          {measures.map(({ field, label, shapes: has }) => (
            <div key={field} class={has.map((shape) => `of-${shape}`).join(' ')}>
              <Measure form={form} field={field} label={label} />
            </div>
          ))}
        </div>
      </FieldSet>
    </div>
  );
}

export function EnclosureFormPage(props: EnclosureFormPageProps) {
  const { furniture, form, enclosure, preview, units } = props;
  const action = enclosure ? `/enclosures/${enclosure.id}/edit` : '/enclosures';
  return (
    <Shell
      furniture={furniture}
      title={enclosure ? `Edit ${enclosure.name}` : 'New enclosure'}
      purpose="Its measures say how much substrate it holds, and so how many animals."
      breadcrumbs={[{ href: '/enclosures', label: 'Enclosures' }]}
      width="wide"
    >
      {enclosure && !enclosure.measured && (
        <Notice tone="needs-you">
          These measures were assumed when your records were brought in. Measure one and put in what is true.
        </Notice>
      )}
      <div class="columns">
        <Form furniture={furniture} action={action} id="enclosure-form">
          {enclosure && (
            <FilledFrom form={form} words={enclosureFieldWords} choices={{ shape: shapeChoices }} />
          )}
          <ErrorSummary errors={form.errors} labels={enclosureFieldWords} />
          <Field
            label="Name"
            maxLength={80}
            {...fieldOf(form, 'name')}
            help="What it is called on the shelf: shoebox with a lid."
            required
          />
          <Measures form={form} />
          <TextAreaField
            label="Ventilation"
            rows={2}
            maxLength={500}
            {...fieldOf(form, 'ventilation')}
            help="In words, as it stands on the care sheet: two mesh-covered holes on opposite sides."
            optional
          />
          <Actions>
            <Button kind="main">{enclosure ? 'Save' : 'Write it down'}</Button>
            <LinkButton href="/enclosures">Leave</LinkButton>
          </Actions>
        </Form>
        <EnclosurePreview preview={preview} units={units} locale={furniture.locale} />
      </div>
    </Shell>
  );
}
