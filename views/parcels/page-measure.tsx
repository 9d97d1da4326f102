import { massUnitOf } from '../../shared/parcels/typed-mass.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FileFaults } from '../layout/file-faults.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, TextAreaField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';

export type MeasurePageProps = {
  furniture: Furniture;
  box: { id: number; name: string };
  form: FormState;
  faults: { line: number; why: string }[];
  units: UnitSystem;
};

const labels = {
  mass: 'Weight of the contents',
  heatCapacity: 'Heat capacity',
  log: 'The log',
  file: 'CSV file',
};

function HowTo() {
  return (
    <ol>
      <li>
        Fill bottles with warm water, about 40 °C (104 °F), weigh them and put them into the box: they should
        be much heavier than the box.
      </li>
      <li>
        Put one thermometer between the bottles and one beside the box, and close the lid as for a parcel.
      </li>
      <li>
        Leave it alone in a steady room, out of sun and draught, until the water has lost at least a third of
        its lead.
      </li>
      <li>Write down time, inside and outside every quarter of an hour, or let a logger do it.</li>
    </ol>
  );
}

/** Asks for a log of a box that cools: how much was in it, and what the thermometers said. */
export function MeasurePage({ furniture, box, form, faults, units }: MeasurePageProps) {
  return (
    <Shell
      furniture={furniture}
      title={`Measure ${box.name}`}
      purpose="From a log of its cooling, how much heat this box really lets through."
      breadcrumbs={[{ href: '/parcels/stock', label: 'Boxes and packs' }]}
    >
      <HowTo />
      <Form furniture={furniture} action={`/parcels/boxes/${box.id}/measure`} encType="multipart/form-data">
        <ErrorSummary errors={form.errors} labels={labels} title="Not read yet. What to mend:" />
        <Field
          label={labels.mass}
          inputMode="decimal"
          size="short"
          unit={massUnitOf(units)}
          help="The water, without the bottles."
          {...fieldOf(form, 'mass')}
          required
        />
        <Field
          label={labels.heatCapacity}
          inputMode="decimal"
          size="short"
          unit="kJ/(kg K)"
          help="Water: 4.186."
          {...fieldOf(form, 'heatCapacity')}
          required
        />
        <TextAreaField
          label={labels.log}
          rows={8}
          help="First line: time, inside, outside. Times as 14:30, as 2026-11-25 14:30, or hours or minutes as numbers. Pasted from a spreadsheet is fine."
          {...fieldOf(form, 'log')}
          optional
        />
        <Field
          label={labels.file}
          type="file"
          accept=".csv,text/csv,text/plain"
          help="In place of the text above."
          {...fieldOf(form, 'file')}
          optional
        />
        <FileFaults faults={faults} />
        <Actions>
          <Button kind="main">Work it out</Button>
          <LinkButton href="/parcels/stock">Leave</LinkButton>
        </Actions>
      </Form>
      <WorkedOut of="box" />
    </Shell>
  );
}
