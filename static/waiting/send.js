// Worker: sends what waits, one after another in the order it was written, and looks afterwards whether somebody else
// wrote at the same culture meanwhile. An entry goes only when the server's answer is on record here; until then it is
// sent again under its own key, which the server writes once.

import { at, named } from './at.js';
import { inTime } from './in-time.js';
import { askSignal, jsonOf } from './signal.js';
import { allEntries, changeEntry, dropEntry, entryOf, rememberSent, setFact, tell } from './store.js';

const patienceMs = 15_000;
const dayMs = 86_400_000;
/** The server knows a form's key for 30 days. */
const keysKnownMs = 29 * dayMs;
const thrownKeptMs = 14 * dayMs;
/** So often one entry may meet a fault of the server before the others go past it. */
const mostFaults = 5;
const longestAnswer = 60_000;

/** Sends now; where somebody is sending already, waits for its turn or leaves it to them. */
export const send = ({ wait = false } = {}) =>
  navigator.locks.request(named('send-waiting'), { ifAvailable: !wait }, (lock) =>
    lock ? sendAll() : undefined,
  );

/**
 * The service is there but takes nothing just now (it is paused, stopped, or busy), and says so itself or through a proxy
 * before it: that is no fault of an entry's, and it is sent again under its key.
 */
export const isNotNow = ({ status }) => status === 502 || status === 503 || status === 504;

const inState = async (state) => (await allEntries()).filter((entry) => entry.state === state);

async function sendAll() {
  const entries = await allEntries();
  for (const { id, state, thrownAt } of entries)
    if (state === 'thrown' && Date.now() - thrownAt > thrownKeptMs) await dropEntry(id);
  if (!entries.some(({ state }) => state === 'waiting' || state === 'sent')) return;
  const session = await askSignal();
  if (typeof session === 'string') {
    if (session === 'silence') await setFact('triedAt', Date.now());
    return;
  }
  const sentCodes = await sendEach(session);
  await compare(session.person);
  tell({ changed: true, sentCodes });
}

async function sendEach(session) {
  const sentCodes = [];
  for (const { id, personId } of await inState('waiting')) {
    if (personId !== session.person.id) continue;
    const outcome = await sendOne(id, session);
    if (outcome === 'stop') break;
    if (outcome === 'sent') sentCodes.push(...((await entryOf(id))?.codes ?? []));
    tell({ changed: true });
  }
  return sentCodes;
}

/** 'sent', 'refused', 'gone' (thrown away meanwhile), or 'stop' when the rest has to wait too. */
async function sendOne(id, session) {
  const entry = await entryOf(id);
  if (entry?.state !== 'waiting') return 'gone';
  if (entry.tries > 0 && Date.now() - entry.writtenAt > keysKnownMs) {
    await refuse(entry, 0, 'It has waited for a month, so it cannot be told whether it had arrived.');
    return 'refused';
  }
  await changeEntry(id, { tries: entry.tries + 1 });
  let answer = await post(entry, session.csrf);
  if (answer?.status === 403) {
    const again = await askSignal();
    if (typeof again === 'string' || again.person.id !== entry.personId) return 'stop';
    session.csrf = again.csrf;
    answer = await post(entry, session.csrf);
  }
  return judge(entry, answer);
}

async function post(entry, csrf) {
  const body = new URLSearchParams(entry.fields);
  body.append('formKey', entry.formKey);
  const headers = { 'hx-request': 'true', 'csrf-token': csrf, 'written-by': entry.personId };
  try {
    return await inTime(
      fetch(at(entry.path) + entry.search, { method: 'POST', headers, body, redirect: 'manual' }),
      patienceMs,
    );
  } catch {
    return null;
  }
}

async function judge(entry, answer) {
  const status = answer?.status ?? 0;
  if (answer?.ok) {
    await changeEntry(entry.id, { state: 'sent', sentAt: Date.now() });
    await rememberSent(`${entry.path} ${entry.formKey}`, entry.said, Date.now());
    return 'sent';
  }
  // 401: nobody is signed in; 412: somebody else is. Either way nothing was written.
  if (status === 401) await setFact('signedOut', true);
  if (status === 0 || status === 401 || status === 412 || status === 408 || status === 429) return 'stop';
  if (answer && isNotNow(answer)) return 'stop';
  if (status >= 500) {
    const faults = (entry.faults ?? 0) + 1;
    await changeEntry(entry.id, { faults });
    if (faults < mostFaults) return 'stop';
  }
  await refuse(entry, status, (await answer.text().catch(() => '')).slice(0, longestAnswer));
  return 'refused';
}

async function refuse(entry, status, answer) {
  const others = await meanwhile(entry).catch(() => []);
  await changeEntry(entry.id, { state: 'refused', status, answer, others, refusedAt: Date.now() });
}

/** What others wrote at the same cultures since this person last saw them. */
async function meanwhile({ codes, seenAt }) {
  const others = [];
  for (const code of codes) {
    const { data } = await jsonOf(`/cultures/${encodeURIComponent(code)}/meanwhile?since=${seenAt}`);
    for (const entry of data?.entries ?? []) others.push({ code, ...entry });
  }
  return others;
}

/** A sent entry goes, unless somebody else wrote there too: then both are shown until a person has seen them. */
async function compare(person) {
  for (const entry of await inState('sent')) {
    if (entry.personId !== person.id) continue;
    let others;
    try {
      others = await meanwhile(entry);
    } catch {
      return;
    }
    if (others.length === 0) await dropEntry(entry.id);
    else await changeEntry(entry.id, { state: 'both', others });
  }
}
