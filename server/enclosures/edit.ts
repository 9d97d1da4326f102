import { h } from 'preact';
import {
  enclosureFieldWords,
  enclosureForm,
  enclosureFormValues,
  enclosureFromForm,
} from '../../shared/enclosures/form.ts';
import { EnclosureFormPage, type EnclosureFormPageProps } from '../../views/enclosures/page-form.tsx';
import { EnclosurePreview } from '../../views/enclosures/part-preview.tsx';
import { workOutAnew } from '../counts/queries-outdated.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, part, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormBody, StaffCall } from '../plumbing/call.ts';
import {
  differencesBetween,
  fingerprintOf,
  isWrong,
  lastSaved,
  type Outcome,
  overtaken,
  saved,
} from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { previewOf } from './preview.ts';
import {
  culturesInEnclosure,
  type Enclosure,
  enclosureNamed,
  insertEnclosure,
  readEnclosure,
  updateEnclosure,
} from './queries.ts';

export const subjectOf = (id: number) => `enclosure ${id}`;

export function enclosureIn(call: StaffCall): Enclosure {
  const enclosure = readEnclosure(call.db, numberIn(call, 'id', 'enclosure'));
  if (!enclosure) throw notFound('enclosure');
  return enclosure;
}

function formPage(
  call: StaffCall,
  form: EnclosureFormPageProps['form'],
  extra: Pick<EnclosureFormPageProps, 'enclosure' | 'conflict'> = { enclosure: null },
) {
  return h(EnclosureFormPage, {
    furniture: call.furniture,
    form,
    preview: previewOf(form.values as FormBody, call.business.units),
    units: call.business.units,
    ...extra,
  });
}

export function askNewEnclosure(call: StaffCall): Answer {
  return page(formPage(call, { values: enclosureFormValues(null, call.business.units), errors: {} }));
}

/** The drawing and the litres of what is typed so far, for the form while it is being filled in. */
export function showPreview(call: StaffCall): Answer {
  const { units, locale } = call.business;
  return part(h(EnclosurePreview, { preview: previewOf(call.query, units), units, locale }));
}

function read(call: StaffCall, before: Enclosure | null) {
  const form = readForm(enclosureForm, call.body);
  if (!form.ok) return form;
  const made = enclosureFromForm(form.data, call.business.units, before);
  return made.ok
    ? { ok: true as const, values: made.values, form: form.form }
    : { ok: false as const, form: withErrors(form.form, made.errors) };
}

function nameFaults(tx: Db, name: string, ownId: number | null): Record<string, string> {
  const namesake = enclosureNamed(tx, name);
  if (!namesake || namesake.id === ownId) return {};
  return {
    name: namesake.retiredAt
      ? 'An enclosure you no longer use has this name. Bring it back, or choose another name.'
      : 'There is an enclosure with this name already.',
  };
}

export function addEnclosure(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const errors = nameFaults(tx, made.values.name, null);
    if (isWrong({ errors })) return { ...saved, errors };
    const id = insertEnclosure(tx, made.values);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after: made.values });
    return saved;
  });
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect('/enclosures', `${made.values.name} is written down.`);
}

export function askEditEnclosure(call: StaffCall): Answer {
  const enclosure = enclosureIn(call);
  const values = {
    ...enclosureFormValues(enclosure, call.business.units),
    version: fingerprintOf(enclosure),
  };
  return page(formPage(call, { values, errors: {} }, { enclosure }));
}

function conflictPage(call: StaffCall, enclosure: Enclosure): Answer {
  const form = typed(call.body);
  const stored = enclosureFormValues(enclosure, call.business.units);
  const conflict = {
    ...lastSaved(call.db, subjectOf(enclosure.id), call.business),
    differences: differencesBetween(stored, form.values, enclosureFieldWords),
  };
  const values = { ...form.values, version: fingerprintOf(enclosure) };
  return page(formPage(call, { values, errors: {} }, { enclosure, conflict }), 409);
}

export function saveEnclosure(call: StaffCall): Answer {
  const enclosure = enclosureIn(call);
  const made = read(call, enclosure);
  if (!made.ok) return wrongForm(formPage(call, made.form, { enclosure }));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readEnclosure(tx, enclosure.id);
    if (!stored) throw notFound('enclosure');
    if (fingerprintOf(stored) !== call.body.version) return overtaken;
    const errors = nameFaults(tx, made.values.name, stored.id);
    if (isWrong({ errors })) return { ...saved, errors };
    updateEnclosure(tx, stored.id, made.values);
    const changes = changesBetween<Record<string, unknown>>(stored, { ...made.values, measured: true });
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    workOutAnew(tx, culturesInEnclosure(tx, stored.id), call.today, at);
    return saved;
  });
  if (outcome.overtaken) return conflictPage(call, readEnclosure(call.db, enclosure.id) ?? enclosure);
  if (isWrong(outcome))
    return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { enclosure }));
  return redirect('/enclosures', `${made.values.name} is saved.`);
}
