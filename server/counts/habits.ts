import { h } from 'preact';
import { firstHabits, type Habits, habitsForm, habitsOf, usualField } from '../../shared/counts/habits.ts';
import { animalGroups } from '../../shared/species/columns.ts';
import { HabitsPage } from '../../views/counts/page-habits.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readHabits, saveHabits } from './queries-habits.ts';

const asValues = ({ minutes, sampleShare, usual }: Habits): FormState['values'] => ({
  visibleMinutes: minutes.visible,
  sampleMinutes: minutes.sample,
  fullMinutes: minutes.full,
  sampleShare: `${Math.round(sampleShare * 1000) / 10} %`,
  ...Object.fromEntries(animalGroups.map((group) => [usualField(group), usual[group]])),
});
const keptNow = (db: Db) => asValues(readHabits(db).habits);

function habitsPage({ db, furniture }: StaffCall, form: FormState) {
  return h(HabitsPage, { furniture, form, first: firstHabits, areFirst: readHabits(db).minutesAreFirst });
}

export const askHabits = (call: StaffCall): Answer => page(habitsPage(call, filledWith(keptNow(call.db))));

export function changeHabits(call: StaffCall): Answer {
  const read = readForm(habitsForm, call.body);
  if (!read.ok) return wrongForm(habitsPage(call, read.form));
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, keptNow(tx))) return overtaken;
    saveHabits(tx, habitsOf(read.data), { personId: call.who.id, at: call.clock.now() });
    return saved;
  });
  if (outcome.overtaken)
    return page(habitsPage(call, tooLate(call, keptNow(call.db), { subject: 'counting' })), 409);
  return redirect('/surplus/count-next', 'Saved. The list of counts follows.');
}
