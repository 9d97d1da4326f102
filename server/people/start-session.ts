import { tellPerson } from '../mails/queries-tell-person.ts';
import type { Call } from '../plumbing/call.ts';
import { freshToken } from '../plumbing/sessions.ts';
import { findPerson } from './queries.ts';
import { isKnownDevice, isNewDevice, rememberDevice } from './queries-tries.ts';

/**
 * Signs somebody in who has just proved who they are: a new session, the one this browser had before ended, and the
 * browser remembered; where it is a new one, the person is written to. Returns the cookies.
 */
export async function startSession(call: Call, personId: string): Promise<string[]> {
  if (call.sessionId) call.sessions.end(call.sessionId);
  const cookie = await call.sessions.begin(personId, call.device);
  const given = call.knownDevice;
  const device = given && isKnownDevice(call.db, given) ? given : freshToken();
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
