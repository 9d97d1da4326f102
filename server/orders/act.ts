import { daysBetween } from '../../shared/days.ts';
import { cancelForm, releaseForm, reserveForm, sentForm, tellForm } from '../../shared/orders/form.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatCount } from '../../views/layout/format.ts';
import { answerBlocked } from '../movement/queries-blocked.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { byOf } from './by.ts';
import { loadOrder } from './queries.ts';
import { release } from './queries-release.ts';
import { NotReserved, reserve } from './reserve.ts';
import { mayTell, ownerPage } from './show.ts';
import { cancel, close, confirm, markSent, missingGroups, stepBack } from './steps.ts';
import { nothingEntered, reservedWords, wishesOf } from './wishes.ts';

const numberOf = (call: StaffCall) => numberIn(call, 'number', 'order');
const pathOf = (number: number) => `/orders/${number}`;

const toldWords = ({ told }: { told: boolean }) => (told ? ' A mail tells the customer in a minute.' : '');

export function reserveAnimals(call: StaffCall): Answer {
  const number = numberOf(call);
  const loaded = loadOrder(call.db, number);
  const read = readForm(reserveForm, call.body);
  const { wishes, errors } = wishesOf(call.body);
  const reason = read.ok && read.data.override ? read.data.overrideReason : null;
  if (reason !== null && reason.length < 3)
    errors.overrideReason = 'Write why, in a few words. It is kept and printed.';
  const wrong = (more: Record<string, string>) =>
    wrongForm(ownerPage(call, loaded, { reserve: withErrors(read.form, more) }));
  if (!read.ok || Object.keys(errors).length > 0) return wrong(errors);
  if (wishes.length === 0) return wrong({ '': nothingEntered });
  try {
    const done = call.once((tx) => {
      const reserved = reserve(tx, number, wishes, reason, byOf(call));
      return { ...reserved, missing: missingGroups(tx, loaded.order.id) };
    });
    return redirect(pathOf(number), reservedWords(done, done.missing));
  } catch (error) {
    if (!(error instanceof NotReserved)) throw error;
    return wrong(error.errors);
  }
}

export function releaseAnimals(call: StaffCall): Answer {
  const number = numberOf(call);
  loadOrder(call.db, number);
  const read = readForm(releaseForm, call.body);
  const allocation = read.ok ? read.data.allocation : 0;
  const done = call.once((tx) => release(tx, number, allocation, byOf(call)));
  return redirect(pathOf(number), `${formatCount(done.groups, 'group')} from ${done.code} set free again.`);
}

export function confirmOrder(call: StaffCall): Answer {
  const number = numberOf(call);
  const read = readForm(tellForm, call.body);
  const tell = read.ok && read.data.tell === 'yes' && mayTell(call);
  try {
    const done = call.once((tx) => confirm(tx, number, byOf(call), tell));
    return redirect(pathOf(number), `Order ${number} is confirmed and can be packed.${toldWords(done)}`);
  } catch (error) {
    return answerBlocked(call, error);
  }
}

export function cancelOrder(call: StaffCall): Answer {
  const number = numberOf(call);
  const loaded = loadOrder(call.db, number);
  const read = readForm(cancelForm, call.body);
  if (!read.ok) return wrongForm(ownerPage(call, loaded, { cancel: { ...read.form, id: 'cancel' } }));
  const done = call.once((tx) => cancel(tx, number, read.data.reason, byOf(call)));
  const freed = done.released > 0 ? ` ${formatCount(done.released, 'group')} set free.` : '';
  return redirect(pathOf(number), `Order ${number} is cancelled.${freed}`);
}

export function sendOrder(call: StaffCall): Answer {
  const number = numberOf(call);
  const loaded = loadOrder(call.db, number);
  const read = readForm(sentForm, call.body);
  const cameBack = (form: FormState) => wrongForm(ownerPage(call, loaded, { sent: { ...form, id: 'sent' } }));
  const wrong = (message: string) => cameBack(withErrors(read.form, { sentOn: message }));
  if (!read.ok) return cameBack(read.form);
  const { sentOn, tracking = '', trackingLink = '' } = read.data;
  const writtenOn = dayInZone(loaded.order.madeAt, call.business.timeZone);
  if (daysBetween(call.today, sentOn) > 0) return wrong('This day is still to come.');
  if (daysBetween(writtenOn, sentOn) < 0) return wrong('This is before the order was written down.');
  const tell = read.data.tell === 'yes' && mayTell(call);
  const leaving = { sentOn, tracking, trackingLink, tell, despite: read.data.despite };
  try {
    const done = call.once((tx) => markSent(tx, number, leaving, byOf(call)));
    return redirect(pathOf(number), {
      text: `Order ${number} is sent.${toldWords(done)}`,
      tone: 'plain',
      undo: { action: `${pathOf(number)}/back`, label: 'Undo' },
    });
  } catch (error) {
    const errors: Record<string, string> =
      call.body.despite === undefined ? {} : { despite: 'Write why, in a few words.' };
    return answerBlocked(call, error, withErrors(read.form, errors));
  }
}

export function closeOrder(call: StaffCall): Answer {
  const number = numberOf(call);
  call.once((tx) => {
    close(tx, number, byOf(call));
    return true;
  });
  return redirect(pathOf(number), {
    text: `Order ${number} is closed.`,
    tone: 'plain',
    undo: { action: `${pathOf(number)}/back`, label: 'Undo' },
  });
}

export function takeBack(call: StaffCall): Answer {
  const number = numberOf(call);
  const state = call.once((tx) => stepBack(tx, number, byOf(call)));
  return redirect(pathOf(number), `Order ${number} is ${state} again.`);
}
