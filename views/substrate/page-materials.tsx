import { type BulkUnit, bulkUnitWords } from '../../shared/substrate/form.ts';
import { ChipLinks } from '../cultures/part-chip-links.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, FieldSet, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type MaterialsPageProps = {
  furniture: Furniture;
  materials: readonly { name: string; fields: { inHand: string; bag: string; name: string } }[];
  unit: BulkUnit;
  mayEdit: boolean;
  form: FormState;
};

function UnitLinks({ unit }: { unit: BulkUnit }) {
  const links = (Object.keys(bulkUnitWords) as BulkUnit[]).map((one) => ({
    href: `/substrate/materials?unit=${one}`,
    label: bulkUnitWords[one],
    current: one === unit,
  }));
  return <ChipLinks label="Measured in" links={links} />;
}

function labelsOf({ materials }: MaterialsPageProps): Record<string, string> {
  const labels: Record<string, string> = { spare: 'Mix more than needed' };
  for (const { name, fields } of materials) {
    labels[fields.inHand] = `${name}: on the shelf`;
    labels[fields.bag] = `${name}: sold in bags of`;
  }
  return labels;
}

/** Helpers are shown neither bags nor the spare share, and change neither. */
function wordsOf(props: MaterialsPageProps): Record<string, string> {
  const own = props.materials.map(({ fields }) => fields.inHand);
  return Object.fromEntries(
    Object.entries(labelsOf(props)).filter(([name]) => props.mayEdit || own.includes(name)),
  );
}

/** How much of each material is there, and the bags it is sold in. */
export function MaterialsPage(props: MaterialsPageProps) {
  const { furniture, materials, unit, mayEdit, form } = props;
  const words = bulkUnitWords[unit];
  const common = { inputMode: 'decimal', size: 'short', unit: words, optional: true } as const;
  return (
    <Shell
      furniture={furniture}
      title="What is on the shelf"
      purpose="Loose, as it is measured. Leave a field empty where nobody knows: nothing is taken off the list then."
      breadcrumbs={[{ href: '/substrate', label: 'Substrate' }]}
    >
      <UnitLinks unit={unit} />
      <Form furniture={furniture} action="/substrate/materials">
        <FilledFrom form={form} words={wordsOf(props)} />
        <ErrorSummary errors={form.errors} labels={labelsOf(props)} />
        <input type="hidden" name="unit" value={unit} />
        {materials.map(({ name, fields }) => (
          <FieldSet key={fields.name} legend={name}>
            <div class="field-row">
              <input type="hidden" name={fields.name} value={name} />
              <Field label="On the shelf" {...common} {...fieldOf(form, fields.inHand)} />
              {mayEdit && <Field label="Sold in bags of" {...common} {...fieldOf(form, fields.bag)} />}
            </div>
          </FieldSet>
        ))}
        {mayEdit && (
          <Field
            label="Mix more than needed"
            unit="%"
            inputMode="decimal"
            size="short"
            help="For what sticks to the tub and what is spilt. A tenth is common practice without a source."
            {...fieldOf(form, 'spare')}
          />
        )}
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/substrate">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
