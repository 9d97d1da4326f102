import type { z } from 'zod';
import type { FormState } from '../../views/layout/form-state.ts';
import type { FormBody } from './call.ts';

export type ReadForm<T> = { ok: true; data: T; form: FormState } | { ok: false; form: FormState };

/** What was typed, as it was typed: goes back into the fields whatever happens. */
export function typed(body: FormBody): FormState {
  const values: Record<string, string | string[]> = {};
  for (const [name, value] of Object.entries(body)) {
    if (name !== '_csrf' && name !== 'formKey' && value !== undefined) values[name] = value;
  }
  return { values, errors: {} };
}

/**
 * Holds a form against its schema. Empty boxes count as left out. Only fields the schema names reach the result;
 * the first message per field is shown beside it.
 */
export function readForm<S extends z.ZodObject>(schema: S, body: FormBody): ReadForm<z.infer<S>> {
  const form = typed(body);
  const input: Record<string, unknown> = {};
  for (const name of Object.keys(schema.shape)) {
    const value = Object.hasOwn(form.values, name) ? form.values[name] : undefined;
    if (typeof value === 'string' ? value.trim() !== '' : value !== undefined) input[name] = value;
  }
  const parsed = schema.safeParse(input);
  if (parsed.success) return { ok: true, data: parsed.data, form };
  for (const issue of parsed.error.issues) {
    const name = String(issue.path[0] ?? 'form');
    form.errors[name] ??= issue.message;
  }
  return { ok: false, form };
}

/** The same form with messages found later, when the data was held against what is stored. */
export const withErrors = (form: FormState, errors: Record<string, string>): FormState => ({
  values: form.values,
  errors: { ...form.errors, ...errors },
});
