import { type CountMethod, MARK_RECAPTURE_ESTIMATORS, REMOVAL_ESTIMATORS } from '../../shared/counts/form.ts';
import { catchNames } from '../../shared/counts/page-form.ts';
import { ChoiceField, Field, type FieldProps, type FormState, fieldOf } from '../layout/form.tsx';
import { estimatorWords } from './method-words.ts';

type Props = { form: FormState };

/** What the fields are called, for the summary of what to mend. */
export const countLabels: Record<string, string> = {
  counted: 'Counted',
  fraction: 'Part searched',
  catch1: 'Catch 1',
  catch2: 'Catch 2',
  catch3: 'Catch 3',
  catch4: 'Catch 4',
  catch5: 'Catch 5',
  marked: 'Marked',
  caught: 'Caught later',
  recaptured: 'Of these, marked',
  estimator: 'Estimator',
  onDay: 'Day',
  note: 'Note',
  reason: 'Why all the same',
};

function Whole({ form, name, ...more }: Props & { name: string } & Partial<FieldProps>) {
  return (
    <Field
      label={countLabels[name] ?? name}
      inputMode="numeric"
      size="short"
      {...more}
      {...fieldOf(form, name)}
    />
  );
}

/** Hardly anybody changes it, so it is folded away until it is asked for or wrong. */
function Estimator({ form, names }: Props & { names: readonly string[] }) {
  const { value = names[0], ...field } = fieldOf(form, 'estimator');
  return (
    <details class="more-fields" open={field.error !== undefined || value !== names[0]}>
      <summary>Estimator: {estimatorWords[String(value)]?.label ?? 'choose one'}</summary>
      <ChoiceField
        label="Estimator"
        hideLabel
        options={names.map((name) => ({ value: name, ...estimatorWords[name]! }))}
        {...field}
        value={value}
      />
    </details>
  );
}

function Removal({ form }: Props) {
  return (
    <>
      <div class="field-row catches">
        {catchNames.map((name, i) => (
          <Whole key={name} form={form} name={name} optional={i > 1} required={i < 2} />
        ))}
      </div>
      <Estimator form={form} names={REMOVAL_ESTIMATORS} />
    </>
  );
}

function Marked({ form }: Props) {
  return (
    <>
      <Whole form={form} name="marked" help="On the first visit, let go again." required />
      <Whole form={form} name="caught" help="On the second visit, with and without a mark." required />
      <Whole form={form} name="recaptured" help="How many of that catch carried the mark." required />
      <Estimator form={form} names={MARK_RECAPTURE_ESTIMATORS} />
    </>
  );
}

/** The fields of one way of counting, and no others. */
export function MethodFields({ method, form }: Props & { method: CountMethod }) {
  switch (method) {
    case 'visible':
      return (
        <Whole
          form={form}
          name="counted"
          inputMode="text"
          help="Rough is fine: about 40, 40+, 40-50. Your words are kept."
          maxLength={80}
          required
        />
      );
    case 'full':
      return <Whole form={form} name="counted" help="Taken to be right within some percent." required />;
    case 'sample':
      return (
        <>
          <Whole form={form} name="counted" help="In the part that was searched." required />
          <Field
            label="Part searched"
            size="short"
            help="As a percentage or in parts: 20 % or 1 of 5."
            {...fieldOf(form, 'fraction')}
            required
          />
        </>
      );
    case 'removal':
      return <Removal form={form} />;
    case 'mark-recapture':
      return <Marked form={form} />;
  }
}
