import { h } from 'preact';
import {
  type CupValues,
  cupFieldWords,
  cupForm,
  cupFormValues,
  cupFromForm,
  startingCups,
} from '../../shared/documents/cup-form.ts';
import { CupFormPage, type CupFormPageProps } from '../../views/documents/page-cup.tsx';
import { formatCount } from '../../views/layout/format.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, isWrong, lastSaved } from '../plumbing/edits.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { addKept, type Kept, keptIn, saveKept, setKeptRetired } from '../plumbing/kept-things.ts';
import { type Cup, cupNamed, insertCup, readCup, setCupRetired, updateCup } from './queries-packing.ts';

const subjectOfCup = (id: number) => `cup ${id}`;

const keptCups: Kept<Cup, CupValues> = {
  what: 'cup',
  subject: subjectOfCup,
  read: readCup,
  named: cupNamed,
  insert: insertCup,
  update: (tx, { id }, values) => updateCup(tx, id, values),
  setRetired: setCupRetired,
};

const cupIn = (call: StaffCall): Cup => keptIn(call, keptCups);

type Extra = Pick<CupFormPageProps, 'conflict'> & { cup: Cup | null };

const formPage = (call: StaffCall, form: FormState, { cup, conflict }: Extra = { cup: null }) =>
  h(CupFormPage, { furniture: call.furniture, form, cup, conflict, units: call.business.units });

const valuesOf = (call: StaffCall, cup: CupValues | null) => cupFormValues(cup, call.business.units);

export const askNewCup = (call: StaffCall): Answer =>
  page(formPage(call, { values: valuesOf(call, null), errors: {} }));

export function askEditCup(call: StaffCall): Answer {
  const cup = cupIn(call);
  const values = { ...valuesOf(call, cup), version: fingerprintOf(cup) };
  return page(formPage(call, { values, errors: {} }, { cup }));
}

function read(call: StaffCall, before: Cup | null) {
  const form = readForm(cupForm, call.body);
  if (!form.ok) return form;
  const made = cupFromForm(form.data, call.business.units, before);
  return made.ok
    ? { ok: true as const, values: made.values, form: form.form }
    : { ok: false as const, form: withErrors(form.form, made.errors) };
}

export function addCup(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const outcome = addKept(call, keptCups, made.values);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect('/cups', `${made.values.name} is written down.`);
}

export function saveCup(call: StaffCall): Answer {
  const cup = cupIn(call);
  const made = read(call, cup);
  if (!made.ok) return wrongForm(formPage(call, made.form, { cup }));
  const outcome = saveKept(call, keptCups, cup.id, made.values);
  if (outcome.overtaken) return conflictPage(call, readCup(call.db, cup.id) ?? cup);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { cup }));
  return redirect('/cups', `${made.values.name} is saved.`);
}

function conflictPage(call: StaffCall, cup: Cup): Answer {
  const form = typed(call.body);
  const conflict = {
    ...lastSaved(call.db, subjectOfCup(cup.id), call.business),
    differences: differencesBetween(valuesOf(call, cup), form.values, cupFieldWords),
  };
  const values = { ...form.values, version: fingerprintOf(cup) };
  return page(formPage(call, { values, errors: {} }, { cup, conflict }), 409);
}

export function retireCup(call: StaffCall): Answer {
  const { id, name } = cupIn(call);
  setKeptRetired(call, keptCups, id, true);
  return redirect('/cups', {
    text: `${name} is not offered any more.`,
    tone: 'plain',
    undo: { action: `/cups/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackCup(call: StaffCall): Answer {
  const { id, name } = cupIn(call);
  setKeptRetired(call, keptCups, id, false);
  return redirect('/cups', `${name} is offered again.`);
}

/** Adds the starting cups that are not there yet, by their names. */
export function addStartingCups(call: StaffCall): Answer {
  const at = call.clock.now();
  const added = call.once((tx) => {
    const fresh = startingCups.filter(({ name }) => !cupNamed(tx, name));
    for (const cup of fresh) {
      const id = insertCup(tx, cup, at);
      const subject = subjectOfCup(id);
      note(tx, { at, personId: call.who.id, action: 'added', subject, after: { ...cup } });
    }
    return fresh.length;
  });
  return redirect(
    '/cups',
    `${formatCount(added, 'cup')} ${added === 1 ? 'is' : 'are'} added. Put in your own measures.`,
  );
}
