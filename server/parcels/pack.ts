import { h } from 'preact';
import {
  heatPackForm,
  heatPackFromForm,
  meltingPackForm,
  meltingPackFromForm,
  type PackKind,
  type PackValues,
  packFieldWords,
  packFormValues,
} from '../../shared/parcels/pack-form.ts';
import { PackFormPage, type PackFormPageProps } from '../../views/parcels/page-pack.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, isWrong, lastSaved } from '../plumbing/edits.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { addKept, type Kept, keptIn, saveKept, setKeptRetired } from '../plumbing/kept-things.ts';
import { insertPack, type Pack, packNamed, readPack, setPackRetired, updatePack } from './queries-stock.ts';

const keptPacks: Kept<Pack, PackValues> = {
  what: 'pack',
  subject: (id) => `pack ${id}`,
  read: readPack,
  named: packNamed,
  insert: insertPack,
  update: (tx, { id }, values) => updatePack(tx, id, values),
  setRetired: setPackRetired,
};

const packIn = (call: StaffCall): Pack => keptIn(call, keptPacks);

type Extra = Pick<PackFormPageProps, 'conflict'> & { pack: Pack | null };

function formPage(
  call: StaffCall,
  kind: PackKind,
  form: FormState,
  { pack, conflict }: Extra = { pack: null },
) {
  const { units, currency } = call.business;
  return h(PackFormPage, { furniture: call.furniture, kind, form, pack, conflict, units, currency });
}

const valuesOf = (call: StaffCall, pack: Pack | null) =>
  packFormValues(pack, call.business.units, call.business.currency);

const kindOf = (given: unknown): PackKind => (given === 'melting' ? 'melting' : 'heat');

export function askNewPack(call: StaffCall): Answer {
  return page(formPage(call, kindOf(call.query.kind), { values: valuesOf(call, null), errors: {} }));
}

export function askEditPack(call: StaffCall): Answer {
  const pack = packIn(call);
  const values = { ...valuesOf(call, pack), version: fingerprintOf(pack) };
  return page(formPage(call, pack.kind, { values, errors: {} }, { pack }));
}

function read(call: StaffCall, kind: PackKind, before: Pack | null) {
  const { units, currency } = call.business;
  const settle = (form: FormState, made: ReturnType<typeof heatPackFromForm>) =>
    made.ok
      ? { ok: true as const, values: made.values, form }
      : { ok: false as const, form: withErrors(form, made.errors) };
  if (kind === 'heat') {
    const form = readForm(heatPackForm(currency), call.body);
    return form.ok ? settle(form.form, heatPackFromForm(form.data, units, before)) : form;
  }
  const form = readForm(meltingPackForm(currency), call.body);
  return form.ok ? settle(form.form, meltingPackFromForm(form.data, units, before)) : form;
}

export function addPack(call: StaffCall): Answer {
  const kind = kindOf(call.body.kind);
  const made = read(call, kind, null);
  if (!made.ok) return wrongForm(formPage(call, kind, made.form));
  const outcome = addKept(call, keptPacks, made.values);
  if (isWrong(outcome)) return wrongForm(formPage(call, kind, withErrors(made.form, outcome.errors)));
  return redirect('/parcels/stock', `${made.values.name} is written down.`);
}

export function savePack(call: StaffCall): Answer {
  const pack = packIn(call);
  const made = read(call, pack.kind, pack);
  if (!made.ok) return wrongForm(formPage(call, pack.kind, made.form, { pack }));
  const outcome = saveKept(call, keptPacks, pack.id, made.values);
  if (outcome.overtaken) return conflictPage(call, readPack(call.db, pack.id) ?? pack);
  if (isWrong(outcome))
    return wrongForm(formPage(call, pack.kind, withErrors(made.form, outcome.errors), { pack }));
  return redirect('/parcels/stock', `${made.values.name} is saved.`);
}

function conflictPage(call: StaffCall, pack: Pack): Answer {
  const form = typed(call.body);
  const conflict = {
    ...lastSaved(call.db, keptPacks.subject(pack.id), call.business),
    differences: differencesBetween(valuesOf(call, pack), form.values, packFieldWords),
  };
  const values = { ...form.values, version: fingerprintOf(pack) };
  return page(formPage(call, pack.kind, { values, errors: {} }, { pack, conflict }), 409);
}

export function retirePack(call: StaffCall): Answer {
  const { id, name } = packIn(call);
  setKeptRetired(call, keptPacks, id, true);
  return redirect('/parcels/stock', {
    text: `${name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `/parcels/packs/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackPack(call: StaffCall): Answer {
  const { id, name } = packIn(call);
  setKeptRetired(call, keptPacks, id, false);
  return redirect('/parcels/stock', `${name} is offered again.`);
}
