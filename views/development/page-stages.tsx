import type { Stage } from '../../shared/development/page-form.ts';
import { Actions, Button } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, FieldSet, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

type StagesPageProps = {
  furniture: Furniture;
  species: { id: number; scientificName: string };
  unit: string;
  form: FormState;
};

const legends: Record<Stage, string> = {
  hatch: 'From eggs or brood seen to the first young',
  adult: 'From the start of a feeder culture to its first adults',
};

const labels = Object.fromEntries(
  (Object.keys(legends) as Stage[]).flatMap((stage) => [
    [`${stage}Cool`, `${legends[stage]}: cooler`],
    [`${stage}CoolDays`, `${legends[stage]}: takes then`],
    [`${stage}Warm`, `${legends[stage]}: warmer`],
    [`${stage}WarmDays`, `${legends[stage]}: takes then`],
    [`${stage}Source`, `${legends[stage]}: who says so`],
  ]),
);

function StageFields({ stage, unit, form }: { stage: Stage; unit: string; form: FormState }) {
  const common = { inputMode: 'decimal', size: 'short' } as const;
  return (
    <FieldSet legend={legends[stage]}>
      <Field label="At a cooler temperature of" unit={unit} {...common} {...fieldOf(form, `${stage}Cool`)} />
      <Field label="it takes" unit="days" {...common} {...fieldOf(form, `${stage}CoolDays`)} />
      <Field label="At a warmer temperature of" unit={unit} {...common} {...fieldOf(form, `${stage}Warm`)} />
      <Field label="it takes only" unit="days" {...common} {...fieldOf(form, `${stage}WarmDays`)} />
      <Field
        label="Who says so"
        help="A book, a paper, or your own notes."
        {...fieldOf(form, `${stage}Source`)}
        optional
      />
    </FieldSet>
  );
}

/** How long the stages of a species take at two temperatures. */
export function StagesPage({ furniture, species, unit, form }: StagesPageProps) {
  return (
    <Shell
      furniture={furniture}
      title={`Development of ${species.scientificName}`}
      heading={
        <>
          Development of <Latin>{species.scientificName}</Latin>
        </>
      }
      purpose="From how long it takes at two temperatures, each culture's page foretells when to look for young. Leave a stage empty and nothing is said of it."
      breadcrumbs={[
        { href: '/species', label: 'Species' },
        { href: `/species/${species.id}`, label: species.scientificName },
      ]}
    >
      <Form furniture={furniture} action={`/species/${species.id}/development`}>
        <FilledFrom form={form} words={labels} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <StageFields stage="hatch" unit={unit} form={form} />
        <StageFields stage="adult" unit={unit} form={form} />
        <Actions>
          <Button kind="main">Save</Button>
        </Actions>
      </Form>
    </Shell>
  );
}
