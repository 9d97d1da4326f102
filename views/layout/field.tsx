import type { ComponentChildren } from 'preact';
import { classes } from './classes.ts';
import { describedBy, FieldFrame, type FieldFrameProps } from './field-frame.tsx';
import { type FormValue, fieldId } from './form-state.ts';
import { type HtmxAttributes, htmxOf } from './htmx.ts';

export type UnitChoice = { name: string; value: string; options: readonly Option[] };

export type Option = { value: string; label: string; disabled?: boolean };

type Common = HtmxAttributes &
  Pick<FieldFrameProps, 'label' | 'help' | 'error' | 'optional' | 'hideLabel'> & {
    name: string;
    value?: FormValue;
    required?: boolean;
    disabled?: boolean;
    id?: string;
    class?: string;
  };

export type FieldProps = Common & {
  type?:
    | 'text'
    | 'number'
    | 'date'
    | 'email'
    | 'password'
    | 'search'
    | 'tel'
    | 'url'
    | 'file'
    | 'time'
    | 'datetime-local';
  /** Stands inside the field; a choice of units makes it switchable. */
  unit?: string | UnitChoice;
  /** How much room the answer needs. */
  size?: 'short' | 'normal' | 'long';
  inputMode?: 'text' | 'numeric' | 'decimal' | 'email' | 'tel' | 'search' | 'url';
  autocomplete?: string;
  min?: number | string;
  max?: number | string;
  step?: number | string;
  maxLength?: number;
  /** Id of a datalist, or the suggestions themselves. */
  list?: string | readonly string[];
  accept?: string;
  readOnly?: boolean;
  autoFocus?: boolean;
};

function Unit({ unit, label, inputId }: { unit: string | UnitChoice; label: string; inputId: string }) {
  if (typeof unit === 'string') {
    return (
      <span class="field-unit" id={`${inputId}-unit`}>
        {unit}
      </span>
    );
  }
  return (
    <select class="field-unit" name={unit.name} aria-label={`Unit of ${label}`}>
      {unit.options.map((option) => (
        <option key={option.value} value={option.value} selected={option.value === unit.value}>
          {option.label}
        </option>
      ))}
    </select>
  );
}

/** Numbers are typed as text with a number keyboard: what was typed comes back even when it is no number. */
function inputKind(type: FieldProps['type']) {
  return type === 'number'
    ? ({ type: 'text', inputMode: 'decimal' } as const)
    : { type: type ?? 'text', inputMode: undefined };
}

/** Kept apart because the types of inputs with and without a list exclude one another. */
function kindOf(type: string, list: string | undefined): object {
  return { type, list };
}

/** A labelled one-line field. */
export function Field(props: FieldProps) {
  const { label, name, value, unit, size = 'normal', list, error } = props;
  const id = props.id ?? fieldId(name);
  const kind = inputKind(props.type);
  const listId = typeof list === 'string' ? list : list ? `${id}-list` : undefined;
  return (
    <FieldFrame {...props} id={id}>
      <div class={classes('field-box', `field-${size}`, unit !== undefined && 'field-with-unit')}>
        <input
          id={id}
          name={name}
          {...kindOf(kind.type, listId)}
          value={kind.type === 'file' || value == null ? undefined : value}
          inputMode={props.inputMode ?? kind.inputMode}
          autoComplete={props.autocomplete ?? 'off'}
          required={props.required}
          disabled={props.disabled}
          readOnly={props.readOnly}
          autofocus={props.autoFocus}
          min={props.min}
          max={props.max}
          step={props.step}
          maxLength={props.maxLength}
          accept={props.accept}
          aria-invalid={error ? true : undefined}
          aria-describedby={describedBy(id, props, typeof unit === 'string' ? [`${id}-unit`] : [])}
          {...htmxOf(props)}
        />
        {unit !== undefined && <Unit unit={unit} label={label} inputId={id} />}
      </div>
      {list !== undefined && typeof list !== 'string' && (
        <datalist id={listId}>
          {list.map((suggestion) => (
            <option key={suggestion} value={suggestion} />
          ))}
        </datalist>
      )}
    </FieldFrame>
  );
}

export type TextAreaFieldProps = Common & { rows?: number; maxLength?: number; autocomplete?: string };

/** HTML drops a line break that opens a text area; another before it keeps what was typed. */
function keepFirstBreak(value: FormValue): string {
  const text = value == null ? '' : String(value);
  return /^\r?\n/.test(text) ? `\n${text}` : text;
}

/** A labelled field of several lines. */
export function TextAreaField(props: TextAreaFieldProps) {
  const { name, value, error, rows = 3 } = props;
  const id = props.id ?? fieldId(name);
  return (
    <FieldFrame {...props} id={id}>
      <textarea
        id={id}
        name={name}
        rows={rows}
        maxLength={props.maxLength}
        required={props.required}
        disabled={props.disabled}
        autoComplete={props.autocomplete ?? 'off'}
        aria-invalid={error ? true : undefined}
        aria-describedby={describedBy(id, props)}
        {...htmxOf(props)}
      >
        {keepFirstBreak(value)}
      </textarea>
    </FieldFrame>
  );
}

export type OptionGroup = { group: string; options: readonly Option[] };

export type SelectFieldProps = Common & {
  options: readonly (Option | OptionGroup)[];
  /** A first option without a value: 'Choose a species'. */
  empty?: string;
};

function Options({ options, chosen }: { options: readonly Option[]; chosen: string }) {
  return (
    <>
      {options.map((option) => (
        <option
          key={option.value}
          value={option.value}
          disabled={option.disabled}
          selected={option.value === chosen}
        >
          {option.label}
        </option>
      ))}
    </>
  );
}

/** A labelled choice of one from a list too long for chips. */
export function SelectField(props: SelectFieldProps) {
  const { name, value, error, options, empty } = props;
  const id = props.id ?? fieldId(name);
  const chosen = value == null ? '' : String(value);
  return (
    <FieldFrame {...props} id={id}>
      <div class="field-box">
        <select
          id={id}
          name={name}
          required={props.required}
          disabled={props.disabled}
          aria-invalid={error ? true : undefined}
          aria-describedby={describedBy(id, props)}
          {...htmxOf(props)}
        >
          {empty !== undefined && <option value="">{empty}</option>}
          {options.map((entry) =>
            'group' in entry ? (
              <optgroup key={entry.group} label={entry.group}>
                <Options options={entry.options} chosen={chosen} />
              </optgroup>
            ) : (
              <Options key={entry.value} options={[entry]} chosen={chosen} />
            ),
          )}
        </select>
      </div>
    </FieldFrame>
  );
}

/** Fields that belong together, under one heading. */
export function FieldSet(props: {
  legend: ComponentChildren;
  help?: ComponentChildren;
  class?: string;
  children?: ComponentChildren;
}) {
  return (
    <fieldset class={classes('field-set', props.class)}>
      <legend>{props.legend}</legend>
      {props.help && <p class="field-help">{props.help}</p>}
      {props.children}
    </fieldset>
  );
}
