import { orderById } from '../orders/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict, notFound, Refusal } from '../plumbing/errors.ts';
import { readMail, sendAgain, stopMail } from './queries.ts';
import { newsFor, tellBusiness } from './queries-tell.ts';

const loadMail = (call: StaffCall) => {
  const found = readMail(call.db, numberIn(call, 'id', 'mail'));
  if (!found) throw notFound('mail');
  return found;
};

const changed = conflict('This mail is not where it was any more: see what became of it.');

export function stop(call: StaffCall): Answer {
  const { mail } = loadMail(call);
  call.once((tx) => {
    if (!stopMail(tx, mail.id, call.clock.now())) throw changed;
    return true;
  });
  return redirect(`/mails/${mail.id}`, {
    text: 'It is not sent.',
    tone: 'plain',
    undo: { action: `/mails/${mail.id}/again`, label: 'Send it after all' },
  });
}

export function again(call: StaffCall): Answer {
  const { mail } = loadMail(call);
  const now = call.clock.now();
  call.once((tx) => {
    const to = mail.orderId === null ? mail.toAddress : orderById(tx, mail.orderId).customer.email;
    if (!to) throw new Refusal(409, 'No address', 'The customer has no e-mail address any more.');
    if (!sendAgain(tx, mail.id, to, { now, giveUpAt: now + newsFor[mail.kind] })) throw changed;
    return true;
  });
  return redirect(`/mails/${mail.id}`, 'It goes out within a minute.');
}

export function test(call: StaffCall): Answer {
  const { config, business } = call;
  if (!config.mail) throw new Refusal(409, 'No mail server', 'No mail server is named yet.');
  if (!business.email)
    throw new Refusal(409, 'No address', 'The business has no e-mail address yet: see Settings.');
  call.once((tx) => {
    tellBusiness(tx, business, { personId: call.who.id, now: call.clock.now() });
    return true;
  });
  return redirect('/mails', 'The test mail goes out in a minute.');
}
