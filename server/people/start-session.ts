import { tellPerson } from '../mails/queries-tell-person.ts';
import type { Call } from '../plumbing/call.ts';
import { isFormKey, once, outcomeOf } from '../plumbing/once.ts';
import { freshToken } from '../plumbing/sessions.ts';
import { tokenForForm } from './links.ts';
import { findPerson } from './queries.ts';
import { isKnownDevice, isNewDevice, rememberDevice } from './queries-tries.ts';

/** Whether this very form has signed the person in before. */
function cameBefore(call: Call, personId: string): boolean {
  const { formKey } = call.body;
  if (!isFormKey(formKey)) return false;
  const form = { key: formKey, personId, path: 'session', now: call.clock.now() };
  if (outcomeOf(call.db, form) !== null) return true;
  once(call.db, form, () => true);
  return false;
}

/**
 * Signs somebody in who has just proved who they are: a new session, the one this browser had before ended, and the
 * browser remembered; where it is a new one, the person is written to. Returns the cookies. A form that comes twice by a
 * nervous thumb is given the same session again, as long as that stands; never one that was ended.
 */
export async function startSession(call: Call, personId: string): Promise<string[]> {
  const isAgain = cameBefore(call, personId);
  const sameFor = (what: 'session' | 'device') =>
    isFormKey(call.body.formKey) ? tokenForForm(what, personId, call.body.formKey) : freshToken();
  const given = call.knownDevice;
  const device = given && isKnownDevice(call.db, given) ? given : sameFor('device');
  const stands = isAgain ? call.sessions.cookieOf(sameFor('session'), personId) : null;
  if (stands) return [stands, call.sessions.deviceCookie(device)];
  if (call.sessionId) call.sessions.end(call.sessionId);
  const cookie = await call.sessions.begin(
    personId,
    call.device,
    isAgain ? freshToken() : sameFor('session'),
  );
  call.db.transaction(
    (tx) => {
      const person = findPerson(tx, personId);
      if (person && isNewDevice(tx, personId, device)) tellPerson(tx, call, person, 'Device');
      rememberDevice(tx, personId, device, call.clock.now());
    },
    { behavior: 'immediate' },
  );
  return [cookie, call.sessions.deviceCookie(device)];
}
