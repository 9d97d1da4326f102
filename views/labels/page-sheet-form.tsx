import { labelSheetWords } from '../../shared/labels/form.ts';
import type { LabelPaper } from '../../shared/labels/sheet.ts';
import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  CheckField,
  checkOf,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { SheetPreview, type SheetPreviewData } from './part-preview.tsx';

export type SheetFormPageProps = {
  furniture: Furniture;
  form: FormState;
  /** The one that is changed; null makes a new one. */
  sheet: { id: number; name: string } | null;
  preview: SheetPreviewData | null;
  paper: LabelPaper;
  units: UnitSystem;
};

const follow = {
  'hx-get': '/label-sheets/preview',
  'hx-trigger': 'change, input changed delay:400ms',
  'hx-target': '#sheet-preview',
  'hx-swap': 'outerHTML',
  'hx-include': '#sheet-form',
  'hx-sync': 'this:replace',
};

function Measure(props: { form: FormState; name: string; units: UnitSystem; help?: string }) {
  const { form, name, units, help } = props;
  const optional = help !== undefined;
  return (
    <Field
      label={labelSheetWords[name] ?? name}
      inputMode="decimal"
      size="short"
      unit={fieldUnitsOf(units).length}
      help={help}
      optional={optional}
      {...fieldOf(form, name)}
    />
  );
}

function Measures({ form, paper, units }: Pick<SheetFormPageProps, 'form' | 'paper' | 'units'>) {
  return (
    <div {...follow}>
      <FieldSet legend="How many">
        <div class="measures">
          <Field label="Labels across" type="number" size="short" {...fieldOf(form, 'columns')} />
          <Field label="Labels down" type="number" size="short" {...fieldOf(form, 'rows')} />
        </div>
      </FieldSet>
      <FieldSet
        legend="Measures"
        help={`Measured with a ruler on the sheet, from the edge of the paper (${paper}, from the settings).`}
      >
        <div class="measures">
          <Measure form={form} units={units} name="marginTop" />
          <Measure form={form} units={units} name="marginLeft" />
          <Measure form={form} units={units} name="gapAcross" />
          <Measure form={form} units={units} name="gapDown" />
          <Measure form={form} units={units} name="labelWidth" help="Left out: what the margins leave" />
          <Measure form={form} units={units} name="labelHeight" help="Left out: what the margins leave" />
          <Measure form={form} units={units} name="marginRight" help="Left out: as on the left" />
          <Measure form={form} units={units} name="marginBottom" help="Left out: as above" />
        </div>
      </FieldSet>
      <CheckField label="Cutting lines around each label, for plain paper" {...checkOf(form, 'cutLines')} />
    </div>
  );
}

export function SheetFormPage(props: SheetFormPageProps) {
  const { furniture, form, sheet, preview, paper, units } = props;
  const action = sheet ? `/label-sheets/${sheet.id}` : '/label-sheets';
  return (
    <Shell
      furniture={furniture}
      title={sheet ? sheet.name : 'New sheet of labels'}
      purpose="The measures of one kind of label paper."
      breadcrumbs={[
        { href: '/settings', label: 'Settings' },
        { href: '/label-sheets', label: 'Sheets of labels' },
      ]}
      width="wide"
    >
      <div class="columns">
        <Form furniture={furniture} action={action} id="sheet-form">
          {sheet && <FilledFrom form={form} words={labelSheetWords} />}
          <ErrorSummary errors={form.errors} labels={labelSheetWords} />
          <Field
            label="Name"
            maxLength={80}
            {...fieldOf(form, 'name')}
            help="What stands on the packet, such as 24 to a sheet."
            required
          />
          <Measures form={form} paper={paper} units={units} />
          <Actions>
            <Button kind="main">Save</Button>
            <LinkButton href="/label-sheets">Leave</LinkButton>
          </Actions>
        </Form>
        <SheetPreview preview={preview} errors={{}} words={labelSheetWords} />
      </div>
      {sheet && (
        <PostButton
          furniture={furniture}
          action={`/label-sheets/${sheet.id}/remove`}
          label="Remove this sheet"
          kind="quiet"
        />
      )}
    </Shell>
  );
}
