import { Field, type FormState, fieldOf } from '../layout/form.tsx';

export type TallyFieldProps = {
  form: FormState;
  name: string;
  label: string;
  help?: string;
  /** For the keys, which have no room for more: '1 adult'. */
  what: string;
};

/** A number that can be typed, and tapped with big keys where there is a script; without one the style hides the keys. */
export function TallyField({ form, name, label, help, what }: TallyFieldProps) {
  return (
    <div class="tally" data-tally>
      <Field label={label} inputMode="numeric" size="short" help={help} {...fieldOf(form, name)} />
      <div class="tally-keys">
        <button type="button" class="tally-key tally-key-more" data-step="1" aria-label={`+1 ${what}`}>
          +1
        </button>
        <button type="button" class="tally-key" data-step="-1" aria-label={`−1 ${what}`}>
          −1
        </button>
        <button type="button" class="tally-key" data-step="5" aria-label={`+5 ${what}`}>
          +5
        </button>
      </div>
    </div>
  );
}
