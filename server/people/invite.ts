import { h } from 'preact';
import { inviteForm } from '../../shared/people/form.ts';
import { InvitePage } from '../../views/people/page-invite.tsx';
import { LinkPage } from '../../views/people/page-link.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { linkAddress, tokenForForm } from './links.ts';
import { addLink, linkHours } from './queries-links.ts';

export function showInvite(call: StaffCall): Answer {
  const form = { values: { role: 'helper' }, errors: {} };
  return page(h(InvitePage, { furniture: call.furniture, form }));
}

export function invite(call: StaffCall): Answer {
  const read = readForm(inviteForm, call.body);
  if (!read.ok) return page(h(InvitePage, { furniture: call.furniture, form: read.form }), 422);
  const now = call.clock.now();
  const token = tokenForForm('invitation', call.who.id, call.body.formKey);
  const made = call.once((tx) => {
    const { name, role } = read.data;
    const key = addLink(tx, { token, purpose: 'invitation', name, role, madeBy: call.who.id, now });
    note(tx, { at: now, personId: call.who.id, action: 'invited', subject: 'people', after: { name, role } });
    return { key, name, at: now };
  });
  return linkAnswer(call, 'invitation', token, made);
}

export type MadeLink = { key: string; name: string; at: number };

/** Shows a link this once. A form that comes again after a restart has a link that nobody can show any more. */
export function linkAnswer(
  call: StaffCall,
  purpose: 'invitation' | 'reset',
  token: string,
  made: MadeLink,
): Answer {
  const address = sha256(token) === made.key ? linkAddress(call.config, purpose, token) : null;
  const { timeZone, locale } = call.business;
  const until = made.at + linkHours[purpose] * 3_600_000;
  const { furniture } = call;
  return page(h(LinkPage, { furniture, purpose, name: made.name, address, until, timeZone, locale }));
}
