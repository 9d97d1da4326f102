import { Field, type FormState, fieldOf } from '../layout/form.tsx';

export type FigureFieldProps = {
  form: FormState;
  /** What each field is called, by its name. */
  words: Record<string, string>;
  name: string;
  unit: string;
  help?: string;
  optional?: boolean;
};

/** A short number with its unit, needed where nothing else is said. */
export function FigureField({ form, words, name, unit, help, optional }: FigureFieldProps) {
  return (
    <Field
      label={words[name] ?? name}
      inputMode="decimal"
      size="short"
      unit={unit}
      help={help}
      {...fieldOf(form, name)}
      required={!optional}
      optional={optional}
    />
  );
}
