import { h } from 'preact';
import { whoMustForm } from '../../shared/people/form.ts';
import { PeoplePage } from '../../views/people/page-people.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { listPeople } from './queries.ts';
import { openInvitations, withdrawInvitation } from './queries-links.ts';
import { saveWhoMust, whoMust } from './queries-second-factor.ts';

const mustNow = (db: Db) => ({ secondFactor: whoMust(db) });
const aboutMust = { action: 'changed who needs a code', subject: 'people' };

function peoplePage(call: StaffCall, must: FormState) {
  const now = call.clock.now();
  const { timeZone, locale } = call.business;
  const invitations = openInvitations(call.db, now).map((link) => ({
    key: link.tokenHash,
    name: link.name ?? '',
    role: link.role ?? ('helper' as const),
    madeAt: link.madeAt,
    expiresAt: link.expiresAt,
  }));
  const people = listPeople(call.db, now);
  const { furniture } = call;
  return h(PeoplePage, { furniture, people, invitations, must, timeZone, locale });
}

export const showPeople = (call: StaffCall): Answer => page(peoplePage(call, filledWith(mustNow(call.db))));

export function setWhoMust(call: StaffCall): Answer {
  const read = readForm(whoMustForm, call.body);
  if (!read.ok) throw conflict('Choose who is asked for a code.');
  const { secondFactor } = read.data;
  const outcome = call.once((tx): Outcome => {
    const before = mustNow(tx);
    if (isOvertaken(call, before)) return overtaken;
    if (before.secondFactor === secondFactor) return saved;
    saveWhoMust(tx, secondFactor);
    const both = { before, after: { secondFactor } };
    note(tx, { at: call.clock.now(), personId: call.who.id, ...aboutMust, ...both });
    return saved;
  });
  if (outcome.overtaken) return page(peoplePage(call, tooLate(call, mustNow(call.db), aboutMust)), 409);
  return redirect('/people', 'Saved. Whoever has none sets a code up at the next page they open.');
}

export function withdraw(call: StaffCall): Answer {
  const name = call.once((tx) => {
    const link = withdrawInvitation(tx, call.params.key ?? '');
    if (!link) throw notFound('invitation');
    note(tx, {
      at: call.clock.now(),
      personId: call.who.id,
      action: 'withdrew an invitation',
      subject: 'people',
      before: { name: link.name, role: link.role },
    });
    return link.name ?? '';
  });
  return redirect('/people', `The invitation for ${name} is withdrawn; its link opens nothing any more.`);
}
