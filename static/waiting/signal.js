// Worker: asks the server whether it is there, and who is signed in.

import { at } from './at.js';
import { inTime } from './in-time.js';
import { setFact, tell } from './store.js';

const patienceMs = 8_000;

export const jsonOf = async (path) => {
  const answer = await inTime(
    fetch(at(path), { headers: { 'hx-request': 'true', 'for-later': 'yes' }, cache: 'no-store' }),
    patienceMs,
  );
  return { status: answer.status, data: answer.ok ? await answer.json() : null };
};

/** Who is signed in, with a token; 'nobody', or 'silence' where no answer came or none that helps. */
export async function askSignal() {
  let answer;
  try {
    answer = await jsonOf('/signal');
  } catch {
    return 'silence';
  }
  if (answer.status === 401) {
    await setFact('signedOut', true);
    tell({ changed: true });
    return 'nobody';
  }
  if (!answer.data) return 'silence';
  const { timeZone, at } = answer.data;
  await setFact('signedOut', false);
  await setFact('timeZone', timeZone);
  await setFact('heardAt', at);
  return answer.data;
}
