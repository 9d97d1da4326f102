import { h } from 'preact';
import { firstSteps } from '../../shared/settings/first-steps.ts';
import { FirstStepsPage } from '../../views/settings/page-first-steps.tsx';
import { firstStepsHref } from '../../views/settings/part-first-steps.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import { bringBack, isPutAway, putAway, readBegun } from './queries-first-steps.ts';

export function showFirstSteps({ db, furniture }: StaffCall): Answer {
  const begun = readBegun(db);
  const allDone = firstSteps(begun).every(({ done }) => done);
  return page(h(FirstStepsPage, { furniture, begun, away: isPutAway(db), allDone }));
}

/** Puts the list away, or brings it back to the round. */
export function moveFirstSteps(call: StaffCall): Answer {
  const { list } = call.body;
  if (list !== 'away' && list !== 'back')
    throw new Refusal(422, 'Not done', 'Say whether the list is to be put away or shown.');
  const by = { personId: call.who.id, now: call.clock.now() };
  call.once((tx) => (list === 'away' ? putAway(tx, by) : bringBack(tx)));
  if (list === 'back') return redirect('/round', 'The first steps are shown here again.');
  return redirect('/round', {
    text: 'The first steps are put away. They stay under Settings.',
    tone: 'plain',
    undo: { action: firstStepsHref, label: 'Undo', fields: { list: 'back' } },
  });
}
