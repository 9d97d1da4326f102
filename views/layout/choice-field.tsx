import type { ComponentChildren } from 'preact';
import { classes } from './classes.ts';
import { describedBy, FieldError, FieldHelp } from './field-frame.tsx';
import { type FormValue, fieldId } from './form-state.ts';
import { type HtmxAttributes, htmxOf } from './htmx.ts';

export type Choice = { value: string; label: ComponentChildren; help?: string; disabled?: boolean };

export type ChoiceFieldProps = HtmxAttributes & {
  label: string;
  name: string;
  options: readonly Choice[];
  value?: FormValue;
  /** Several may be chosen; then `values` says which. */
  multiple?: boolean;
  values?: readonly string[];
  help?: ComponentChildren;
  error?: string;
  required?: boolean;
  optional?: boolean;
  hideLabel?: boolean;
  id?: string;
  class?: string;
};

function isChosen(props: ChoiceFieldProps, value: string): boolean {
  if (props.multiple) return (props.values ?? []).includes(value);
  return props.value != null && String(props.value) === value;
}

/** One (or several) of a few, as large chips to press. The first control bears the field's own id. */
export function ChoiceField(props: ChoiceFieldProps) {
  const { label, name, options, multiple, help, error, required, optional, hideLabel } = props;
  const id = props.id ?? fieldId(name);
  return (
    <fieldset
      class={classes('field', 'choice', error && 'field-wrong', props.class)}
      aria-describedby={describedBy(id, props)}
    >
      <legend class={hideLabel ? 'visually-hidden' : undefined}>
        {label}
        {optional && <span class="field-optional"> optional</span>}
      </legend>
      <div class="chips">
        {options.map((option, index) => (
          <label key={option.value} class="chip">
            <input
              type={multiple ? 'checkbox' : 'radio'}
              id={index === 0 ? id : `${id}-${index}`}
              name={name}
              value={option.value}
              checked={isChosen(props, option.value)}
              disabled={option.disabled}
              required={required && !multiple}
              aria-invalid={error ? true : undefined}
              {...htmxOf(props)}
            />
            <span class="chip-face">
              <span class="chip-label">{option.label}</span>
              {option.help && <span class="chip-help">{option.help}</span>}
            </span>
          </label>
        ))}
      </div>
      <FieldError id={id} error={error} />
      <FieldHelp id={id} help={help} />
    </fieldset>
  );
}

export type CheckFieldProps = HtmxAttributes & {
  label: ComponentChildren;
  name: string;
  /** Sent when ticked; 'yes' when left out. */
  value?: string;
  checked?: boolean;
  help?: ComponentChildren;
  error?: string;
  disabled?: boolean;
  id?: string;
  class?: string;
};

/** A box to tick, with its words beside it. */
export function CheckField(props: CheckFieldProps) {
  const { label, name, value = 'yes', checked, help, error, disabled } = props;
  const id = props.id ?? fieldId(name);
  return (
    <div class={classes('field', 'check', error && 'field-wrong', props.class)}>
      <label class="check-line" htmlFor={id}>
        <input
          type="checkbox"
          id={id}
          name={name}
          value={value}
          checked={checked}
          disabled={disabled}
          aria-invalid={error ? true : undefined}
          aria-describedby={describedBy(id, props)}
          {...htmxOf(props)}
        />
        <span>{label}</span>
      </label>
      <FieldError id={id} error={error} />
      <FieldHelp id={id} help={help} />
    </div>
  );
}
