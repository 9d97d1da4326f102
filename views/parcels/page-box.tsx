import { boxFieldWords, materials, OWN_FIGURE } from '../../shared/parcels/box-form.ts';
import { conductivities } from '../../shared/parcels/handbook.ts';
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
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import { formatMoment } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { doubtful } from './say-stock.ts';

type LogLine = {
  id: number;
  madeAt: number;
  conductanceWPerK: number;
  lowerWPerK: number;
  upperWPerK: number;
};

export type BoxFormPageProps = {
  furniture: Furniture;
  form: FormState;
  /** The one that is edited; null makes a new one. */
  box: { id: number; name: string; conductanceLogId: number | null } | null;
  logs: LogLine[];
  units: UnitSystem;
  currency: string;
  timeZone: string;
};

const words = boxFieldWords;

function Measures({ form, units }: Pick<BoxFormPageProps, 'form' | 'units'>) {
  const unit = fieldUnitsOf(units).length;
  const measure = (name: string) => (
    <Field
      label={words[name] ?? name}
      inputMode="decimal"
      size="short"
      unit={unit}
      {...fieldOf(form, name)}
      required
    />
  );
  return (
    <FieldSet legend="Measures" help="Inside, wall to wall, with the lid on.">
      {measure('length')}
      {measure('width')}
      {measure('height')}
      {measure('wall')}
    </FieldSet>
  );
}

function Sources() {
  return (
    <WorkedOut of="box" label="Where do the figures come from?">
      <ul>
        {materials.map((one) => (
          <li key={one}>
            {one}: {conductivities[one].source}
          </li>
        ))}
      </ul>
    </WorkedOut>
  );
}

function Warmth({ form, box, logs, furniture, timeZone }: BoxFormPageProps) {
  return (
    <FieldSet legend="How well it keeps warm">
      <SelectField
        label={words.material ?? ''}
        required
        options={[
          ...materials.map((value) => ({
            value,
            label: `${value}, ${conductivities[value].value} W/(m K)`,
          })),
          { value: OWN_FIGURE, label: 'something else: my own figure' },
        ]}
        help="Handbook figures; real boxes differ. Used until the box is measured."
        {...fieldOf(form, 'material')}
      />
      <Sources />
      <Field
        label={words.conductivity ?? ''}
        inputMode="decimal"
        size="short"
        unit="W/(m K)"
        help="Only for “something else”."
        {...fieldOf(form, 'conductivity')}
        optional
      />
      <Field
        label={words.conductance ?? ''}
        inputMode="decimal"
        size="short"
        unit="W/K"
        help="Wins over the wall. Leave it empty to go by the wall."
        {...fieldOf(form, 'conductance')}
        optional
      />
      {box && (
        <p>
          <a href={`/parcels/boxes/${box.id}/measure`}>Measure this box</a> from a log of its cooling.
        </p>
      )}
      {logs.length > 0 && (
        <ul>
          {logs.map((log) => (
            <li key={log.id}>
              <a href={`/parcels/boxes/${box?.id}/logs/${log.id}`}>
                {formatMoment(log.madeAt, timeZone, furniture.locale)}
              </a>
              :{' '}
              <Computed of="box">
                {doubtful(log.conductanceWPerK, log.lowerWPerK, log.upperWPerK, furniture.locale)}
              </Computed>
              {log.id === box?.conductanceLogId && ', used'}
            </li>
          ))}
        </ul>
      )}
    </FieldSet>
  );
}

export function BoxFormPage(props: BoxFormPageProps) {
  const { furniture, form, box, units, currency } = props;
  return (
    <Shell
      furniture={furniture}
      title={box ? `Edit ${box.name}` : 'New box'}
      purpose="Its measures and its wall say how fast it follows the weather."
      breadcrumbs={[{ href: '/parcels/stock', label: 'Boxes and packs' }]}
    >
      <Form furniture={furniture} action={box ? `/parcels/boxes/${box.id}/edit` : '/parcels/boxes'}>
        {box && <FilledFrom form={form} words={boxFieldWords} />}
        <ErrorSummary errors={form.errors} labels={boxFieldWords} />
        <Field label="Name" maxLength={80} {...fieldOf(form, 'name')} required />
        <Measures form={form} units={units} />
        <Warmth {...props} />
        <FieldSet legend="Stock">
          <Field
            label="Empty weight"
            inputMode="decimal"
            size="short"
            unit={massUnitOf(units)}
            {...fieldOf(form, 'emptyMass')}
            optional
          />
          <Field
            label="Price"
            inputMode="decimal"
            size="short"
            unit={currency}
            {...fieldOf(form, 'price')}
            optional
          />
          <Field
            label="Number left"
            inputMode="numeric"
            size="short"
            help="Leave it empty if you do not count them."
            {...fieldOf(form, 'left')}
            optional
          />
        </FieldSet>
        <TextAreaField label="Notes" rows={2} maxLength={500} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">{box ? 'Save' : 'Write it down'}</Button>
          <LinkButton href="/parcels/stock">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
