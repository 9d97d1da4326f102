/** What was typed, and what is wrong with it, by field name. The empty name is about the whole form. */
export type FormState = {
  values: Record<string, FormValue | string[]>;
  errors: Record<string, string>;
  /** Set when several forms on one page have fields of the same name: it begins their ids. */
  id?: string;
  /** Set when somebody else saved what the form edits, after it was opened. */
  meanwhile?: Meanwhile;
};

/** What somebody else saved while a form was open, as the form would show it. */
export type Meanwhile = {
  savedBy: string | null;
  savedWhen: string;
  stored: FormState['values'];
};

export type FormValue = string | number | null | undefined;

export const emptyForm: FormState = { values: {}, errors: {} };

/** The id of a field's control: letters, digits, '-' and '_' only, so that a link can point at it. */
export function fieldId(name: string, formId?: string): string {
  const tail = name.replace(/[^A-Za-z0-9_-]+/g, '-');
  return formId ? `${formId}-${tail}` : `field-${tail}`;
}

export type FieldState = { id: string; name: string; value: FormValue; error: string | undefined };

/** A field's own part of a form: <Field label="Adults" {...fieldOf(form, 'adults')} />. */
export function fieldOf(form: FormState, name: string): FieldState {
  const kept = form.values[name];
  const value = Array.isArray(kept) ? kept[0] : kept;
  return { id: fieldId(name, form.id), name, value, error: form.errors[name] };
}

export type ManyState = { id: string; name: string; values: string[]; error: string | undefined };

/** The same for a field that can hold several values: <ChoiceField multiple {...manyOf(form, 'days')} />. */
export function manyOf(form: FormState, name: string): ManyState {
  const kept = form.values[name];
  const values = Array.isArray(kept) ? kept : kept == null || kept === '' ? [] : [String(kept)];
  return { id: fieldId(name, form.id), name, values, error: form.errors[name] };
}

export type CheckState = { id: string; name: string; checked: boolean; error: string | undefined };

/** The same for a single box to tick, which is sent as its value (or not at all). */
export function checkOf(form: FormState, name: string, value = 'yes'): CheckState {
  const many = manyOf(form, name);
  return { id: many.id, name, checked: many.values.includes(value), error: many.error };
}

export function hasErrors(form: FormState): boolean {
  return Object.keys(form.errors).length > 0;
}
