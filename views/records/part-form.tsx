import type { ComponentChildren } from 'preact';
import { Actions, Button } from '../layout/button.tsx';
import { ErrorSummary, Form, type FormState } from '../layout/form.tsx';
import type { FormFurniture } from '../layout/furniture.ts';

/** A part of the preview as a form of its own: what stands in it, or what came back of it. */
export function formFor(returned: FormState, id: string, values: FormState['values']): FormState {
  if (returned.id !== id) return { id, values, errors: {} };
  return { id, values: { ...values, ...returned.values }, errors: returned.errors };
}

export type SayFormProps = {
  furniture: FormFurniture;
  action: string;
  version: number;
  form: FormState;
  /** Which part of a file it speaks of. */
  part?: string;
  keyPart: string;
  button: string;
  labels?: Record<string, string>;
  children: ComponentChildren;
};

/** A form that says something about the upload; what somebody else said meanwhile is noticed by its version. */
export function SayForm(props: SayFormProps) {
  const { furniture, action, version, form, part, keyPart, button, labels, children } = props;
  return (
    <Form furniture={furniture} action={action} keyPart={keyPart}>
      <ErrorSummary errors={form.errors} formId={form.id} labels={labels} />
      <input type="hidden" name="version" value={version} />
      {part && <input type="hidden" name="part" value={part} />}
      {children}
      <Actions>
        <Button>{button}</Button>
      </Actions>
    </Form>
  );
}
