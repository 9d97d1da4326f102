import type { Call } from '../plumbing/call.ts';
import { freshToken } from '../plumbing/sessions.ts';
import { isKnownDevice, rememberDevice } from './queries-tries.ts';

/**
 * Signs somebody in who has just proved who they are: a new session, the one this browser had before ended, and the
 * browser remembered. Returns the cookies.
 */
export async function startSession(call: Call, personId: string): Promise<string[]> {
  if (call.sessionId) call.sessions.end(call.sessionId);
  const cookie = await call.sessions.begin(personId, call.device);
  const given = call.knownDevice;
  const device = given && isKnownDevice(call.db, given) ? given : freshToken();
  rememberDevice(call.db, personId, device, call.clock.now());
  return [cookie, call.sessions.deviceCookie(device)];
}
