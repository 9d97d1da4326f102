import type { ComponentChildren } from 'preact';
import { classes } from './classes.ts';
import { Form } from './form.tsx';
import type { FormFurniture } from './furniture.ts';
import { type HtmxAttributes, htmxOf } from './htmx.ts';

export type ButtonKind = 'main' | 'plain' | 'harm' | 'quiet';

export type ButtonProps = HtmxAttributes & {
  kind?: ButtonKind;
  name?: string;
  value?: string | number;
  type?: 'submit' | 'button' | 'reset';
  /** Posts the form it stands in to another address. */
  formAction?: string;
  /** Id of a form it does not stand in. */
  form?: string;
  disabled?: boolean;
  id?: string;
  class?: string;
  /** For a button whose word does not say what it is about: 'Pack order 12'. */
  ariaLabel?: string;
  children?: ComponentChildren;
};

export function Button(props: ButtonProps) {
  const { kind = 'plain', name, value, type = 'submit', formAction, form, disabled, id, ariaLabel } = props;
  return (
    <button
      type={type}
      name={name}
      value={value}
      formAction={formAction}
      form={form}
      disabled={disabled}
      id={id}
      class={classes('button', `button-${kind}`, props.class)}
      aria-label={ariaLabel}
      {...htmxOf(props)}
    >
      {props.children}
    </button>
  );
}

export type LinkButtonProps = HtmxAttributes & {
  href: string;
  kind?: ButtonKind;
  id?: string;
  class?: string;
  ariaLabel?: string;
  /** Offers to save what the link leads to. */
  download?: boolean;
  children?: ComponentChildren;
};

/** A link that looks like a button: it leads somewhere, it changes nothing. */
export function LinkButton(props: LinkButtonProps) {
  const { href, kind = 'plain', id, ariaLabel, download } = props;
  return (
    <a
      href={href}
      id={id}
      class={classes('button', `button-${kind}`, props.class)}
      aria-label={ariaLabel}
      download={download || undefined}
      {...htmxOf(props)}
    >
      {props.children}
    </a>
  );
}

/** A row of buttons; the main one first. */
export function Actions(props: { class?: string; children?: ComponentChildren }) {
  return <div class={classes('actions', props.class)}>{props.children}</div>;
}

export type PostButtonProps = HtmxAttributes & {
  furniture: FormFurniture;
  action: string;
  label: ComponentChildren;
  /** Hidden fields sent along. */
  fields?: Record<string, string | number>;
  kind?: ButtonKind;
  disabled?: boolean;
  ariaLabel?: string;
  /** Tells several forms of one page with the same action apart. */
  keyPart?: string;
  id?: string;
  class?: string;
};

/** A tiny form with one button: a single change, made at once. */
export function PostButton(props: PostButtonProps) {
  const { furniture, action, label, fields = {}, kind, disabled, ariaLabel, keyPart, id } = props;
  return (
    <Form
      furniture={furniture}
      action={action}
      keyPart={keyPart}
      id={id}
      class={classes('post-button', props.class)}
      {...htmxOf(props)}
    >
      {Object.entries(fields).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <Button kind={kind} disabled={disabled} ariaLabel={ariaLabel}>
        {label}
      </Button>
    </Form>
  );
}
