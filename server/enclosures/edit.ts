import { h } from 'preact';
import {
  enclosureFieldWords,
  enclosureForm,
  enclosureFormValues,
  enclosureFromForm,
} from '../../shared/enclosures/form.ts';
import { EnclosureFormPage, type EnclosureFormPageProps } from '../../views/enclosures/page-form.tsx';
import { EnclosurePreview } from '../../views/enclosures/part-preview.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, part, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormBody, StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, lastSaved } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { workOutAnew } from '../species/queries-outdated.ts';
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
  const errors = made.ok ? {} : made.errors;
  const namesake = enclosureNamed(call.db, form.data.name);
  if (namesake && namesake.id !== before?.id)
    errors.name = namesake.retiredAt
      ? 'An enclosure you no longer use has this name. Bring it back, or choose another name.'
      : 'There is an enclosure with this name already.';
  if (!made.ok || Object.keys(errors).length > 0)
    return { ok: false as const, form: withErrors(form.form, errors) };
  return { ok: true as const, values: made.values, form: form.form };
}

export function addEnclosure(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const at = call.clock.now();
  call.once((tx) => {
    const id = insertEnclosure(tx, made.values);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after: made.values });
  });
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
  const saved = call.once((tx) => {
    const stored = readEnclosure(tx, enclosure.id);
    if (!stored) throw notFound('enclosure');
    if (fingerprintOf(stored) !== call.body.version) return false;
    updateEnclosure(tx, stored.id, made.values);
    const changes = changesBetween<Record<string, unknown>>(stored, { ...made.values, measured: true });
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    workOutAnew(tx, culturesInEnclosure(tx, stored.id), call.today, at);
    return true;
  });
  if (!saved) return conflictPage(call, readEnclosure(call.db, enclosure.id) ?? enclosure);
  return redirect('/enclosures', `${made.values.name} is saved.`);
}
