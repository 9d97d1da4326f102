import { h } from 'preact';
import {
  type BoxValues,
  boxFieldWords,
  boxForm,
  boxFormValues,
  boxFromForm,
} from '../../shared/parcels/box-form.ts';
import { BoxFormPage, type BoxFormPageProps } from '../../views/parcels/page-box.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
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

export function boxIn(call: StaffCall): Box {
  const box = readBox(call.db, numberIn(call, 'id', 'box'));
  if (!box) throw notFound('box');
  return box;
}

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

function nameFaults(tx: Db, name: string, ownId: number | null): Record<string, string> {
  const namesake = boxNamed(tx, name);
  return namesake && namesake.id !== ownId ? { name: 'There is a box with this name already.' } : {};
}

export function addBox(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const errors = nameFaults(tx, made.values.name, null);
    if (isWrong({ errors })) return { ...saved, errors };
    const id = insertBox(tx, made.values, at);
    note(tx, {
      at,
      personId: call.who.id,
      action: 'added',
      subject: subjectOfBox(id),
      after: { ...made.values },
    });
    return saved;
  });
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect('/parcels/stock', `${made.values.name} is written down.`);
}

export function saveBox(call: StaffCall): Answer {
  const box = boxIn(call);
  const made = read(call, box);
  if (!made.ok) return wrongForm(formPage(call, made.form, { box }));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readBox(tx, box.id);
    if (!stored) throw notFound('box');
    if (fingerprintOf(stored) !== call.body.version) return overtaken;
    const errors = nameFaults(tx, made.values.name, stored.id);
    if (isWrong({ errors })) return { ...saved, errors };
    updateBox(tx, stored.id, made.values);
    const changes = changesBetween<Record<string, unknown>>(stored, { ...made.values });
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOfBox(stored.id), ...changes });
    return saved;
  });
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

function setRetired(call: StaffCall, id: number, retired: boolean) {
  const at = call.clock.now();
  call.once((tx) => {
    setBoxRetired(tx, id, retired ? at : null);
    const action = retired ? 'retired' : 'brought back';
    note(tx, { at, personId: call.who.id, action, subject: subjectOfBox(id) });
  });
}

export function retireBox(call: StaffCall): Answer {
  const { id, name } = boxIn(call);
  setRetired(call, id, true);
  return redirect('/parcels/stock', {
    text: `${name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `/parcels/boxes/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackBox(call: StaffCall): Answer {
  const { id, name } = boxIn(call);
  setRetired(call, id, false);
  return redirect('/parcels/stock', `${name} is offered again.`);
}
