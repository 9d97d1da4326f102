import { h } from 'preact';
import { arrivalHabitsForm } from '../../shared/arrivals/habits.ts';
import { ArrivalHabitsPage } from '../../views/arrivals/page-habits.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { readForm } from '../plumbing/forms.ts';
import { readHabits, saveHabits } from './queries-habits.ts';

export function askArrivalHabits({ db, furniture }: StaffCall): Answer {
  return page(h(ArrivalHabitsPage, { furniture, form: filledWith({ ...readHabits(db) }) }));
}

export function changeArrivalHabits(call: StaffCall): Answer {
  const read = readForm(arrivalHabitsForm, call.body);
  if (!read.ok) return wrongForm(h(ArrivalHabitsPage, { furniture: call.furniture, form: read.form }));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const before = readHabits(tx);
    if (isOvertaken(call, { ...before })) return overtaken;
    const changes = changesBetween(before, read.data);
    saveHabits(tx, read.data);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: 'arrivals', ...changes });
    return saved;
  });
  if (outcome.overtaken) {
    const form = tooLate(call, { ...readHabits(call.db) }, { subject: 'arrivals' });
    return page(h(ArrivalHabitsPage, { furniture: call.furniture, form }), 409);
  }
  return redirect('/settings', 'Saved.');
}
