import type { ComponentChildren } from 'preact';
import { type FormState, fieldId } from './form-state.ts';
import type { FormFurniture } from './furniture.ts';
import { type HtmxAttributes, htmxOf } from './htmx.ts';
import { Mark } from './mark.tsx';

export * from './choice-field.tsx';
export * from './field.tsx';
export * from './form-state.ts';

export type FormProps = HtmxAttributes & {
  furniture: FormFurniture;
  action: string;
  method?: 'post' | 'get';
  /** Tells several forms of one page with the same action apart. */
  keyPart?: string;
  encType?: 'multipart/form-data';
  id?: string;
  class?: string;
  ariaLabel?: string;
  children?: ComponentChildren;
};

/** A multipart body is read after the access checks, so the token travels in the address there. */
function withToken(action: string, token: string): string {
  return `${action}${action.includes('?') ? '&' : '?'}_csrf=${encodeURIComponent(token)}`;
}

/** A form that works as a plain POST; it carries the token against forgery and its idempotency key. */
export function Form(props: FormProps) {
  const { furniture, action, method = 'post', keyPart, encType, id, ariaLabel, children } = props;
  const formKey = keyPart ? `${furniture.formKey}.${keyPart}` : furniture.formKey;
  return (
    <form
      action={encType ? withToken(action, furniture.csrfToken) : action}
      method={method}
      encType={encType}
      id={id}
      class={props.class ?? 'form'}
      aria-label={ariaLabel}
      noValidate
      {...htmxOf(props)}
    >
      {method === 'post' && <input type="hidden" name="_csrf" value={furniture.csrfToken} />}
      {method === 'post' && <input type="hidden" name="formKey" value={formKey} />}
      {children}
    </form>
  );
}

export type ErrorSummaryProps = {
  /** Messages by field name; the empty name is about the whole form. */
  errors: FormState['errors'];
  /** The form's id, if it has one in its FormState. */
  formId?: string;
  /** Names of fields as people read them, put before their message; in the order of the page, which the list follows. */
  labels?: Record<string, string>;
  title?: string;
};

/** On top of a form that came back: what is wrong, each linked to its field. Takes the focus. */
export function ErrorSummary(props: ErrorSummaryProps) {
  const { errors, formId, labels = {}, title = 'Not saved yet. What to mend:' } = props;
  const order = ['', ...Object.keys(labels)];
  const placeOf = (name: string) => (order.includes(name) ? order.indexOf(name) : order.length);
  const entries = Object.entries(errors).sort(([a], [b]) => placeOf(a) - placeOf(b));
  if (entries.length === 0) return null;
  return (
    <div class="error-summary" role="alert" tabIndex={-1} data-focus="now">
      <p class="error-summary-title">
        <Mark kind="harm" /> {title}
      </p>
      <ul>
        {entries.map(([name, message]) => {
          const words = labels[name] ? `${labels[name]}: ${message}` : message;
          return (
            <li key={name}>{name === '' ? words : <a href={`#${fieldId(name, formId)}`}>{words}</a>}</li>
          );
        })}
      </ul>
    </div>
  );
}
