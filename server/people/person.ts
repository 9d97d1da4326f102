import { h } from 'preact';
import { roleForm } from '../../shared/people/form.ts';
import { PersonPage } from '../../views/people/page-person.tsx';
import { endFeedOf } from '../calendar/queries.ts';
import { tellPerson } from '../mails/queries-tell-person.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, tooLate } from '../plumbing/edits.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { endSessionsOf } from '../plumbing/sessions.ts';
import { linkAnswer } from './invite.ts';
import { tokenForForm } from './links.ts';
import { changePerson, findPerson, noPassword, otherActiveOwners, type PersonRow } from './queries.ts';
import { addLink, withdrawLinksMadeBy, withdrawResets } from './queries-links.ts';
import { isAsked, removeFactor } from './queries-second-factor.ts';
import { openSessionsOf } from './queries-sessions.ts';
import { forgetDevicesOf, forgetTries } from './queries-tries.ts';

function personIn(call: StaffCall, db: Db = call.db): PersonRow {
  const person = findPerson(db, call.params.id ?? '');
  if (!person) throw notFound('person');
  return person;
}

const isLastOwner = (db: Db, person: PersonRow) =>
  person.role === 'owner' && person.active && otherActiveOwners(db, person.id) === 0;

function keepAnOwner(tx: Db, person: PersonRow): void {
  if (!isLastOwner(tx, person)) return;
  throw conflict(
    `${person.name} is the only active owner, and somebody must be. Make another person an owner first.`,
  );
}

const roleNow = ({ role }: PersonRow) => ({ role });

function personPage(call: StaffCall, person: PersonRow, role: FormState) {
  const { timeZone, locale } = call.business;
  return h(PersonPage, {
    furniture: call.furniture,
    person: { ...person, waitsForPassword: person.passwordHash === noPassword },
    role,
    hasCode: isAsked(call.db, person.id),
    isSelf: person.id === call.who.id,
    isLastOwner: isLastOwner(call.db, person),
    sessions: openSessionsOf(call.db, person.id, call.clock.now()),
    timeZone,
    locale,
  });
}

export function showPerson(call: StaffCall): Answer {
  const person = personIn(call);
  return page(personPage(call, person, filledWith(roleNow(person))));
}

/** One change of one person, written down, in one transaction; gives their name before. */
function change(
  call: StaffCall,
  action: string,
  work: (tx: Db, person: PersonRow) => Partial<PersonRow> | 'overtaken',
): { name: string; overtaken: boolean } {
  return call.once((tx) => {
    const person = personIn(call, tx);
    const { name } = person;
    const after = work(tx, person);
    if (after === 'overtaken') return { name, overtaken: true };
    const before = Object.fromEntries(Object.keys(after).map((key) => [key, person[key as keyof PersonRow]]));
    const subject = `person ${person.id}`;
    note(tx, { at: call.clock.now(), personId: call.who.id, action, subject, before, after });
    return { name, overtaken: false };
  });
}

const backTo = (call: StaffCall, text: string) => redirect(`/people/${call.params.id ?? ''}`, text);

export function changeRole(call: StaffCall): Answer {
  personIn(call);
  const read = readForm(roleForm, call.body);
  if (!read.ok) throw conflict('Choose owner or helper.');
  const { role } = read.data;
  const { name, overtaken } = change(call, 'changed role', (tx, person) => {
    if (person.role !== role) keepAnOwner(tx, person);
    if (isOvertaken(call, roleNow(person))) return 'overtaken';
    if (person.role === role) return {};
    changePerson(tx, person.id, { role });
    endSessionsOf(tx, person.id);
    withdrawLinksMadeBy(tx, person.id);
    return { role };
  });
  if (overtaken) {
    const now = personIn(call);
    const about = { subject: `person ${now.id}`, action: 'changed role' };
    return page(personPage(call, now, tooLate(call, roleNow(now), about)), 409);
  }
  return backTo(
    call,
    `${name} is ${role === 'owner' ? 'an owner' : 'a helper'} from now on, and signs in anew.`,
  );
}

export function deactivate(call: StaffCall): Answer {
  const { name } = change(call, 'deactivated', (tx, person) => {
    keepAnOwner(tx, person);
    changePerson(tx, person.id, { active: false });
    endSessionsOf(tx, person.id);
    forgetDevicesOf(tx, person.id);
    endFeedOf(tx, person.id, call.clock.now());
    withdrawResets(tx, person.id);
    withdrawLinksMadeBy(tx, person.id);
    return { active: false };
  });
  return backTo(call, `${name} can no longer sign in. What they wrote stays.`);
}

export function activate(call: StaffCall): Answer {
  const { name } = change(call, 'activated', (tx, person) => {
    changePerson(tx, person.id, { active: true });
    return { active: true };
  });
  return backTo(call, `${name} can sign in again.`);
}

export function endSessions(call: StaffCall): Answer {
  const { name } = change(call, 'ended all sessions', (tx, person) => {
    endSessionsOf(tx, person.id);
    return {};
  });
  return backTo(call, `All sessions of ${name} have ended.`);
}

/** For a lost phone without a recovery code: whoever asks is known to the owner. */
export function removeSecondFactor(call: StaffCall): Answer {
  const { name } = change(call, 'removed the code at sign-in', (tx, person) => {
    if (person.id === call.who.id) throw conflict('Turn your own code off on your account page.');
    if (removeFactor(tx, person.id)) tellPerson(tx, call, person, 'CodeOff');
    endSessionsOf(tx, person.id);
    return {};
  });
  return backTo(call, `${name} signs in with the password alone, and can set a code up again.`);
}

/** The old password stops at once: who needs a reset may have lost it to somebody. */
export function reset(call: StaffCall): Answer {
  const now = call.clock.now();
  const token = tokenForForm('reset', call.who.id, call.body.formKey);
  const made = call.once((tx) => {
    const person = personIn(call, tx);
    if (person.id === call.who.id) throw conflict('Change your own password on your account page.');
    if (!person.active) throw conflict(`${person.name} is not active. Activate the account first.`);
    withdrawResets(tx, person.id);
    changePerson(tx, person.id, { passwordHash: noPassword });
    endSessionsOf(tx, person.id);
    forgetDevicesOf(tx, person.id);
    endFeedOf(tx, person.id, now);
    forgetTries(tx, { signInName: person.signInName, address: call.address, knownDevice: null });
    const key = addLink(tx, { token, purpose: 'reset', personId: person.id, madeBy: call.who.id, now });
    note(tx, { at: now, personId: call.who.id, action: 'reset a password', subject: `person ${person.id}` });
    return { key, name: person.name, at: now };
  });
  return linkAnswer(call, 'reset', token, made);
}
