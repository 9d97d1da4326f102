import { h } from 'preact';
import {
  type BoxValues,
  boxFieldWords,
  boxForm,
  boxFormValues,
  boxFromForm,
} from '../../shared/parcels/box-form.ts';
import { BoxFormPage, type BoxFormPageProps } from '../../views/parcels/page-box.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, isWrong, lastSaved } from '../plumbing/edits.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { addKept, type Kept, keptIn, saveKept, setKeptRetired } from '../plumbing/kept-things.ts';
import {
  type Box,
  boxNamed,
  insertBox,
  logsOfBox,
  readBox,
  setBoxRetired,
  updateBox,
} from './queries-stock.ts';

export const subjectOfBox = (id: number) => `box ${id}`;

const keptBoxes: Kept<Box, BoxValues> = {
  what: 'box',
  subject: subjectOfBox,
  read: readBox,
  named: boxNamed,
  insert: insertBox,
  update: (tx, { id }, values) => updateBox(tx, id, values),
  setRetired: setBoxRetired,
};

export const boxIn = (call: StaffCall): Box => keptIn(call, keptBoxes);

type Extra = Pick<BoxFormPageProps, 'conflict'> & { box: Box | null };

function formPage(call: StaffCall, form: FormState, { box, conflict }: Extra = { box: null }) {
  return h(BoxFormPage, {
    furniture: call.furniture,
    form,
    box,
    conflict,
    logs: box ? logsOfBox(call.db, box.id) : [],
    units: call.business.units,
    currency: call.business.currency,
    timeZone: call.business.timeZone,
  });
}

const valuesOf = (call: StaffCall, box: BoxValues | null) =>
  boxFormValues(box, call.business.units, call.business.currency);

export function askNewBox(call: StaffCall): Answer {
  return page(formPage(call, { values: valuesOf(call, null), errors: {} }));
}

export function askEditBox(call: StaffCall): Answer {
  const box = boxIn(call);
  const values = { ...valuesOf(call, box), version: fingerprintOf(box) };
  return page(formPage(call, { values, errors: {} }, { box }));
}

function read(call: StaffCall, before: Box | null) {
  const form = readForm(boxForm(call.business.currency), call.body);
  if (!form.ok) return form;
  const made = boxFromForm(form.data, call.business.units, before);
  return made.ok
    ? { ok: true as const, values: made.values, form: form.form }
    : { ok: false as const, form: withErrors(form.form, made.errors) };
}

export function addBox(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const outcome = addKept(call, keptBoxes, made.values);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect('/parcels/stock', `${made.values.name} is written down.`);
}

export function saveBox(call: StaffCall): Answer {
  const box = boxIn(call);
  const made = read(call, box);
  if (!made.ok) return wrongForm(formPage(call, made.form, { box }));
  const outcome = saveKept(call, keptBoxes, box.id, made.values);
  if (outcome.overtaken) return conflictPage(call, readBox(call.db, box.id) ?? box);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { box }));
  return redirect('/parcels/stock', `${made.values.name} is saved.`);
}

function conflictPage(call: StaffCall, box: Box): Answer {
  const form = typed(call.body);
  const conflict = {
    ...lastSaved(call.db, subjectOfBox(box.id), call.business),
    differences: differencesBetween(valuesOf(call, box), form.values, boxFieldWords),
  };
  const values = { ...form.values, version: fingerprintOf(box) };
  return page(formPage(call, { values, errors: {} }, { box, conflict }), 409);
}

export function retireBox(call: StaffCall): Answer {
  const { id, name } = boxIn(call);
  setKeptRetired(call, keptBoxes, id, true);
  return redirect('/parcels/stock', {
    text: `${name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `/parcels/boxes/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackBox(call: StaffCall): Answer {
  const { id, name } = boxIn(call);
  setKeptRetired(call, keptBoxes, id, false);
  return redirect('/parcels/stock', `${name} is offered again.`);
}
