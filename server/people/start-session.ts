import { tellPerson } from '../mails/queries-tell-person.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import type { Call } from '../plumbing/call.ts';
import { isFormKey } from '../plumbing/once.ts';
import type { Db } from '../plumbing/open-database.ts';
import { freshToken, sha256 } from '../plumbing/sessions.ts';
import { tokenForForm } from './links.ts';
import { findPerson } from './queries.ts';
import { begunBy, keepBegun, keepProof, letInBy, type Proof } from './queries-sessions.ts';
import { isKnownDevice, isNewDevice, rememberDevice } from './queries-tries.ts';

/** Begins a session in place of the one this browser had before. */
function beginAnew(call: Call, personId: string, token: string): string {
  if (call.sessionId) call.sessions.end(call.sessionId);
  return call.sessions.begin(personId, call.device, token);
}

/**
 * The session of a form, begun once however often it comes. The value of a session is kept nowhere, so one that was begun
 * before the service was started anew cannot be given again: it ends, and another takes its place. One that was ended
 * since is never given again either.
 */
function sessionOfForm(tx: Db, call: Call, personId: string, formKey: string): string {
  const form = { personId, formKey, now: call.clock.now() };
  const tokenOf = (turn: number) => tokenForForm('session', personId, `${formKey} ${turn}`);
  const before = begunBy(tx, form);
  if (before) {
    const stands = call.sessions.cookieOf(tokenOf(before.turn), personId);
    if (stands) return stands;
    call.sessions.end(before.id);
  }
  const turn = before ? before.turn + 1 : 0;
  keepBegun(tx, form, { turn, id: sha256(tokenOf(turn)) });
  return beginAnew(call, personId, tokenOf(turn));
}

/**
 * Signs somebody in who has just proved who they are: a new session, the one this browser had before ended, and the
 * browser remembered; where it is a new one, the person is written to. Returns the cookies. A form that comes again, by a
 * nervous thumb or after a restart, has one session still. What was proved by something that is good once is kept as
 * `proof`, so that the same form can come again: see `letInBefore`.
 */
export function startSession(call: Call, personId: string, proof?: Proof): string[] {
  const { formKey } = call.body;
  const now = call.clock.now();
  return call.db.transaction(
    (tx) => {
      const given = call.knownDevice;
      const isKept = isFormKey(formKey);
      const made = isKept ? tokenForForm('device', personId, formKey) : freshToken();
      const device = given && isKnownDevice(tx, given) ? given : made;
      const cookie = isKept
        ? sessionOfForm(tx, call, personId, formKey)
        : beginAnew(call, personId, freshToken());
      if (proof && isKept) keepProof(tx, { personId, formKey, now }, proof);
      const person = findPerson(tx, personId);
      if (person && isNewDevice(tx, personId, device)) tellPerson(tx, call, person, 'Device');
      rememberDevice(tx, personId, device, now);
      return [cookie, call.sessions.deviceCookie(device)];
    },
    { behavior: 'immediate' },
  );
}

/** The answer to a form that has let somebody in before by what is good once; null where it is another form. */
export function letInBefore(call: Call, token: string): Answer | null {
  const { formKey } = call.body;
  if (!isFormKey(formKey) || token === '') return null;
  const before = letInBy(call.db, token, formKey, call.clock.now());
  if (!before || !findPerson(call.db, before.personId)?.active) return null;
  return redirect(before.to, null, startSession(call, before.personId));
}
