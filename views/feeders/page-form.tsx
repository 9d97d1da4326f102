import { usualMeal } from '../../shared/feeders/page-form.ts';
import { Actions, Button, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import { ErrorSummary, Field, FieldSet, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

type FeederFormPageProps = {
  furniture: Furniture;
  species: { id: number; scientificName: string; commonName: string };
  isKept: boolean;
  form: FormState;
  eaters: { field: string; scientificName: string; commonName: string }[];
};

const labels: Record<string, string> = {
  leadDays: 'Gives nothing for',
  productiveDays: 'Then gives for',
  yield: 'Gives in all',
  seedAdults: 'Animals to begin one',
  safety: 'Have so many times what is eaten',
};

function Figures({ form }: { form: FormState }) {
  const common = { inputMode: 'decimal', size: 'short', required: true } as const;
  return (
    <FieldSet legend="One culture of it">
      <Field label="Gives nothing for" unit="days" {...common} {...fieldOf(form, 'leadDays')} />
      <Field label="Then gives for" unit="days" {...common} {...fieldOf(form, 'productiveDays')} />
      <Field label="Gives in all" unit="animals" {...common} {...fieldOf(form, 'yield')} />
      <Field label="Animals to begin one" unit="animals" {...common} {...fieldOf(form, 'seedAdults')} />
      <Field
        label="Have so many times what is eaten"
        help="1.2 leaves a fifth to spare for cultures that fail."
        {...common}
        {...fieldOf(form, 'safety')}
      />
      <p class="quiet">
        The figures it begins with are common practice without a source: change them to yours.
      </p>
    </FieldSet>
  );
}

/** What a feeder culture of a species does, and who eats it. */
export function FeederFormPage({ furniture, species, isKept, form, eaters }: FeederFormPageProps) {
  const own = Object.fromEntries(eaters.map(({ field, scientificName }) => [field, scientificName]));
  const here = `/feeders/${species.id}`;
  return (
    <Shell
      furniture={furniture}
      title={`${species.scientificName} as a feeder`}
      purpose="What one culture of it gives and how long it takes: from these the weekly plan is worked out."
      heading={
        <>
          <Latin>{species.scientificName}</Latin> as a feeder
        </>
      }
      breadcrumbs={[{ href: '/feeders', label: 'Feeders' }]}
    >
      <Form furniture={furniture} action={`${here}/edit`}>
        <FilledFrom form={form} words={{ ...labels, ...own }} />
        <ErrorSummary errors={form.errors} labels={{ ...labels, ...own }} />
        <Figures form={form} />
        <FieldSet legend="Who eats it, in a week, when the enclosure is full">
          <p class="quiet">
            Leave empty for those that do not. A few dozen an enclosure, about {usualMeal}, is common practice
            without a source.
          </p>
          {eaters.map(({ field, scientificName, commonName }) => (
            <Field
              key={field}
              label={commonName ? `${scientificName}, ${commonName}` : scientificName}
              inputMode="decimal"
              size="short"
              unit="a week"
              {...fieldOf(form, field)}
              optional
            />
          ))}
        </FieldSet>
        <Actions>
          <Button kind="main">Save</Button>
        </Actions>
      </Form>
      {isKept && (
        <PostButton
          furniture={furniture}
          action={`${here}/stop`}
          label="No longer plan it as a feeder"
          kind="quiet"
          keyPart="stop"
        />
      )}
    </Shell>
  );
}
