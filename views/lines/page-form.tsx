import { lineFieldWords } from '../../shared/lines/form.ts';
import type { Purity } from '../../shared/lines/page-apart.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  manyOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import type { SpeciesName } from './page-lines.tsx';

export type LineFormPageProps = {
  furniture: Furniture;
  form: FormState;
  species: SpeciesName[];
  /** The one that is edited, with how many cultures it ever had; null makes a new one. */
  line: { id: number; name: string; speciesId: number; cultures: number } | null;
  /** The other lines of its species. */
  others: { id: number; name: string }[];
};

const pureOptions: { value: Purity; label: string; help?: string }[] = [
  { value: 'no', label: 'Mixed like any other' },
  { value: 'line', label: 'Kept pure', help: 'with no other line' },
  { value: 'locality', label: 'Within its locality', help: 'with lines of the same locality' },
];

/** What must never come together: no page mixes it, and none proposes to. */
function Apart({ form, others }: Pick<LineFormPageProps, 'form' | 'others'>) {
  const never = manyOf(form, 'neverWith');
  const pure = fieldOf(form, 'keptPure');
  return (
    <FieldSet
      legend="What it may be mixed with"
      help="What is marked here is neither proposed nor accepted when animals are put into another culture."
    >
      <ChoiceField
        label={lineFieldWords.keptPure!}
        {...pure}
        value={pure.value ?? 'no'}
        options={pureOptions}
      />
      {others.length > 0 && (
        <ChoiceField
          label={lineFieldWords.neverWith!}
          multiple
          {...never}
          options={others.map(({ id, name }) => ({ value: String(id), label: name }))}
          optional
        />
      )}
    </FieldSet>
  );
}

const choicesOf = (species: SpeciesName[], others: LineFormPageProps['others']) => ({
  speciesId: species.map((one) => ({ value: String(one.id), label: one.scientificName })),
  keptPure: pureOptions,
  neverWith: others.map(({ id, name }) => ({ value: String(id), label: name })),
});

export function LineFormPage({ furniture, form, species, line, others }: LineFormPageProps) {
  const own = species.find((s) => s.id === line?.speciesId);
  return (
    <Shell
      furniture={furniture}
      title={line ? `Edit line ${line.name}` : 'New line'}
      purpose="Cultures that descend from the same founders. Mix lines only on purpose."
      breadcrumbs={[
        { href: '/species', label: 'Species' },
        { href: '/lines', label: 'Lines' },
      ]}
    >
      <Form furniture={furniture} action={line ? `/lines/${line.id}/edit` : '/lines'}>
        {line && <FilledFrom form={form} words={lineFieldWords} choices={choicesOf(species, others)} />}
        <ErrorSummary errors={form.errors} labels={lineFieldWords} />
        {line && line.cultures > 0 && own ? (
          <p>
            Of <Latin>{own.scientificName}</Latin>; its cultures keep it there.
          </p>
        ) : (
          <SelectField
            label="Species"
            empty="Choose a species"
            options={species.map((s) => ({
              value: String(s.id),
              label: s.commonName ? `${s.scientificName} (${s.commonName})` : s.scientificName,
            }))}
            {...fieldOf(form, 'speciesId')}
            required
          />
        )}
        <Field
          label="Name"
          maxLength={80}
          {...fieldOf(form, 'name')}
          help="Short, as it stands on labels and care sheets."
          required
        />
        <Field
          label="Locality"
          size="long"
          maxLength={200}
          {...fieldOf(form, 'locality')}
          help="Where the founders were collected, or whom they came from."
          optional
        />
        <Apart form={form} others={others} />
        <TextAreaField label="Note" rows={3} maxLength={2000} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">{line ? 'Save' : 'Write it down'}</Button>
          <LinkButton href="/lines">Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
