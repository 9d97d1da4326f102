import { h } from 'preact';
import { arrivalHabitsForm } from '../../shared/arrivals/habits.ts';
import { ArrivalHabitsPage } from '../../views/arrivals/page-habits.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { readHabits, saveHabits } from './queries-habits.ts';

export function askArrivalHabits({ db, furniture }: StaffCall): Answer {
  return page(h(ArrivalHabitsPage, { furniture, form: { values: { ...readHabits(db) }, errors: {} } }));
}

export function changeArrivalHabits(call: StaffCall): Answer {
  const read = readForm(arrivalHabitsForm, call.body);
  if (!read.ok) return wrongForm(h(ArrivalHabitsPage, { furniture: call.furniture, form: read.form }));
  const at = call.clock.now();
  call.once((tx) => {
    const changes = changesBetween(readHabits(tx), read.data);
    saveHabits(tx, read.data);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: 'arrivals', ...changes });
    return true;
  });
  return redirect('/settings', 'Saved.');
}
