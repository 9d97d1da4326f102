import { h } from 'preact';
import { whoMustForm } from '../../shared/people/form.ts';
import { PeoplePage } from '../../views/people/page-people.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import { listPeople } from './queries.ts';
import { openInvitations, withdrawInvitation } from './queries-links.ts';
import { saveWhoMust, whoMust } from './queries-second-factor.ts';

export function showPeople(call: StaffCall): Answer {
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
  const who = whoMust(call.db);
  return page(h(PeoplePage, { furniture, people, invitations, whoMust: who, timeZone, locale }));
}

export function setWhoMust(call: StaffCall): Answer {
  const read = readForm(whoMustForm, call.body);
  if (!read.ok) throw conflict('Choose who is asked for a code.');
  const { secondFactor } = read.data;
  call.once((tx) => {
    const before = whoMust(tx);
    if (before === secondFactor) return;
    saveWhoMust(tx, secondFactor);
    const about = { action: 'changed who needs a code', subject: 'people' };
    const both = { before: { secondFactor: before }, after: { secondFactor } };
    note(tx, { at: call.clock.now(), personId: call.who.id, ...about, ...both });
  });
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
