import type { ComponentChildren } from 'preact';
import { classes } from './classes.ts';
import { Mark } from './mark.tsx';

export type FieldFrameProps = {
  id: string;
  label: string;
  help?: ComponentChildren;
  error?: string;
  /** Says "optional" beside the label. */
  optional?: boolean;
  /** Keeps the label for screen readers only, where the place already says it. */
  hideLabel?: boolean;
  class?: string;
  children?: ComponentChildren;
};

/** The ids of what describes a control: its error first, then its help, then anything else. */
export function describedBy(
  id: string,
  parts: { help?: ComponentChildren; error?: string },
  others: readonly string[] = [],
): string | undefined {
  const ids = [...(parts.error ? [`${id}-error`] : []), ...(parts.help ? [`${id}-help`] : []), ...others];
  return ids.length > 0 ? ids.join(' ') : undefined;
}

export function FieldError({ id, error }: { id: string; error?: string }) {
  if (!error) return null;
  return (
    <p class="field-error" id={`${id}-error`}>
      <Mark kind="harm" /> <span>{error}</span>
    </p>
  );
}

export function FieldHelp({ id, help }: { id: string; help?: ComponentChildren }) {
  if (!help) return null;
  return (
    <p class="field-help" id={`${id}-help`}>
      {help}
    </p>
  );
}

/** Label above, help below, error between the field and its help. */
export function FieldFrame(props: FieldFrameProps) {
  const { id, label, help, error, optional, hideLabel, children } = props;
  return (
    <div class={classes('field', error && 'field-wrong', props.class)}>
      <label htmlFor={id} class={hideLabel ? 'visually-hidden' : undefined}>
        {label}
        {optional && <span class="field-optional"> optional</span>}
      </label>
      {children}
      <FieldError id={id} error={error} />
      <FieldHelp id={id} help={help} />
    </div>
  );
}
