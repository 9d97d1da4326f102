import { h } from 'preact';
import { PeoplePage } from '../../views/people/page-people.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { listPeople } from './queries.ts';
import { openInvitations, withdrawInvitation } from './queries-links.ts';

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
  return page(h(PeoplePage, { furniture: call.furniture, people, invitations, timeZone, locale }));
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
