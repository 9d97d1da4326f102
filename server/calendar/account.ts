import { createHmac, randomBytes } from 'node:crypto';
import { h } from 'preact';
import { CalendarAddressPage } from '../../views/calendar/page-address.tsx';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { addFeed, endFeedOf, feedOf } from './queries.ts';

const processKey = randomBytes(32);

/** A token that only this process can make, and makes again for the same form sent twice; kept nowhere. */
const tokenForForm = (personId: string, formKey: unknown) =>
  createHmac('sha256', processKey)
    .update(JSON.stringify(['calendar', personId, String(formKey)]))
    .digest('base64url');

/** A new address for one's own calendar; the one before stops. Shown once: only its hash is kept. */
export function makeCalendar(call: StaffCall): Answer {
  const { who } = call;
  const token = tokenForForm(who.id, call.body.formKey);
  const tokenHash = sha256(token);
  const madeAt = call.clock.now();
  call.once((tx) => {
    const id = addFeed(tx, { personId: who.id, tokenHash, madeAt });
    note(tx, { at: madeAt, personId: who.id, action: 'made an address', subject: `calendar ${id}` });
    return { id };
  });
  const isShown = feedOf(call.db, who.id)?.tokenHash === tokenHash;
  const address = `${ownAddress(call.config)}/calendar/${token}.ics`;
  return page(h(CalendarAddressPage, { furniture: call.furniture, address: isShown ? address : null }));
}

export function stopCalendar(call: StaffCall): Answer {
  const { who } = call;
  const at = call.clock.now();
  const ended = call.once((tx) => {
    const there = endFeedOf(tx, who.id, at);
    if (there) note(tx, { at, personId: who.id, action: 'stopped', subject: `calendar of ${who.id}` });
    return there;
  });
  return redirect(
    '/account',
    ended ? 'The calendar’s address is stopped: it opens nothing any more.' : 'It was stopped already.',
  );
}
