import { h } from 'preact';
import {
  type CupValues,
  cupForm,
  cupFormValues,
  cupFromForm,
  startingCups,
} from '../../shared/documents/cup-form.ts';
import { CupFormPage } from '../../views/documents/page-cup.tsx';
import { formatCount } from '../../views/layout/format.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { type KeptPages, settle } from '../plumbing/kept-pages.ts';
import { type Cup, cupNamed, insertCup, readCup, setCupRetired, updateCup } from './queries-packing.ts';

const subjectOfCup = (id: number) => `cup ${id}`;

export const keptCups: KeptPages<Cup, CupValues> = {
  what: 'cup',
  subject: subjectOfCup,
  read: readCup,
  named: cupNamed,
  insert: insertCup,
  update: (tx, { id }, values) => updateCup(tx, id, values),
  setRetired: setCupRetired,
  address: '/cups',
  list: '/cups',
  shown: ({ business }, cup) => cupFormValues(cup, business.units),
  made(call, before) {
    const form = readForm(cupForm, call.body);
    return form.ok ? settle(form.form, cupFromForm(form.data, call.business.units, before)) : form;
  },
  form: ({ furniture, business }, form, cup) =>
    h(CupFormPage, { furniture, form, cup, units: business.units }),
};

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
