// Worker: a form of the round that found no network is kept, with the key it was sent under, so that the server writes
// it once even where it had arrived and only the answer was lost.

import { at, inside } from './at.js';
import { madeAtOf, roundCopies } from './copies.js';
import { dayOf, keptWords, partFrom, readBody, roundPath, titleOf, valuesOf } from './forms.js';
import { inTime } from './in-time.js';
import { isPart, notKept, partOf } from './not-sent.js';
import { isNotNow, send } from './send.js';
import { addEntry, allEntries, dropEntry, fact, rememberSent, sentWith, setFact, tell } from './store.js';

/**
 * A line that is half there must not hold up whoever stands before the shelf. Both together are less than the time
 * after which htmx would say that no answer came.
 */
const patienceMs = 8_000;
const patienceWithEarlierMs = 5_000;

async function digest(fields) {
  const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(JSON.stringify(fields)));
  return btoa(String.fromCharCode(...new Uint8Array(bytes)));
}

const isOwn = (entry, person) => entry.personId === person.id;

/** Sends a form of the round; keeps it where there is no network, or where others wait that come first. */
export async function sendOrKeep(event, work) {
  const { request } = event;
  const text = await request.clone().text();
  const body = { ...readBody(text), text };
  const person = await fact('person').catch(() => null);
  if (!person) return fetch(request).catch(() => notKept(request, text));
  if (await earlierWaits(person)) await inTime(send({ wait: true }), patienceWithEarlierMs).catch(() => {});
  if (await earlierWaits(person)) return keepAndAnswer(request, work, body, person);
  try {
    const answer = await inTime(fetch(asScript(request, text)), patienceMs);
    // The session has ended, or the form's token has: what was typed must not go with it.
    if (answer.status === 401 || answer.status === 403)
      return await keepAfterAll(event, work, body, person, answer);
    if (isNotNow(answer)) return await keepAndAnswer(request, { ...work, waitsFor: 'service' }, body, person);
    const isTaken = answer.type === 'opaqueredirect' || answer.ok;
    if (isTaken) event.waitUntil(noteTaken(request, body).catch(() => {}));
    return answer;
  } catch {
    return keepAndAnswer(request, work, body, person);
  }
}

/** The same form, sent so that whoever is not signed in gets an answer that says so and not another page. */
const asScript = (request, text) => {
  const headers = new Headers(request.headers);
  headers.set('by-script', 'yes');
  const { url, referrer } = request;
  return new Request(url, { method: 'POST', headers, body: text, referrer, redirect: 'manual' });
};

async function keepAfterAll(event, work, body, person, { status }) {
  const answer = await keepAndAnswer(event.request, work, body, person);
  if (status === 403) event.waitUntil(send().catch(() => {}));
  if (status === 403 || answer.status === 503) return answer;
  await setFact('signedOut', true);
  if (isPart(event.request)) return new Response('', { status: 401 });
  return Response.redirect(at('/sign-in?next=%2Fround'), 303);
}

async function earlierWaits(person) {
  const entries = await allEntries().catch(() => []);
  return entries.some((entry) => entry.state === 'waiting' && isOwn(entry, person));
}

async function noteTaken(request, { formKey, fields, mends }) {
  const path = inside(new URL(request.url).pathname);
  await rememberSent(`${path} ${formKey}`, await digest(fields), Date.now());
  if (mends) await dropEntry(mends);
  tell({ changed: true });
}

/** What a kept form says besides what was typed: its day, and for several cultures what was done at each. */
async function completed(fields, { kind }, { day, referrer }) {
  const more = [];
  if (!fields.some(([name, value]) => name === 'onDay' && value !== '')) more.push(['onDay', day]);
  if (kind === 'many' && valuesOf(fields, 'did').length > 0) {
    const along = await alongOnRound(referrer);
    for (const code of valuesOf(fields, 'codes'))
      if (along.get(code)) more.push(['along', `${along.get(code).replaceAll(' ', ',')} ${code}`]);
  }
  return [...fields.filter(([name, value]) => name !== 'onDay' || value !== ''), ...more];
}

/** What one tap can say was done at each culture: as the page said it that the form stood on, else the newest copy. */
async function alongOnRound(referrer) {
  const unescaped = (text) => text.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&amp;', '&');
  const found = new Map();
  for (const html of await roundCopies(referrer))
    for (const [, escaped, along = ''] of html.matchAll(/data-code="([^"]*)"(?: data-along="([^"]*)")?/g)) {
      const code = unescaped(escaped);
      if (!found.has(code)) found.set(code, along);
    }
  return found;
}

/** Null where the same form was kept or sent before: then there is nothing new in it. */
async function keyFor(path, formKey, said) {
  const before = await sentWith(`${path} ${formKey}`);
  const kept = (await allEntries()).find((entry) => entry.path === path && entry.formKey === formKey);
  if (before?.said === said || kept?.said === said) return null;
  return before || kept || formKey === '' ? crypto.randomUUID() : formKey;
}

async function keep(request, work, body, person) {
  const { pathname, search } = new URL(request.url);
  const path = inside(pathname);
  const writtenAt = Date.now();
  const said = await digest(body.fields);
  const formKey = await keyFor(path, body.formKey, said);
  if (formKey === null) return;
  const day = dayOf(writtenAt, await fact('timeZone'));
  const fields = await completed(body.fields, work, { day, referrer: request.referrer });
  const codes = work.code === null ? valuesOf(fields, 'codes') : [work.code];
  const heardAt = (await fact('heardAt')) ?? writtenAt;
  const seenAt = (await madeAtOf(request.referrer)) ?? heardAt;
  const { kind, waitsFor = 'signal' } = work;
  const entry = { kind, waitsFor, path, search, formKey, fields, said, codes, writtenAt, seenAt };
  const id = await addEntry({
    ...entry,
    personId: person.id,
    personName: person.name,
    state: 'waiting',
    tries: 0,
  });
  if (body.mends) await dropEntry(body.mends);
  if (!isPart(request)) await setFact('justKept', id);
  tell({ changed: true });
  await self.registration.sync?.register('send-waiting').catch(() => {});
}

async function keepAndAnswer(request, work, body, person) {
  try {
    await keep(request, work, body, person);
  } catch {
    return notKept(request, body.text);
  }
  const what = `${work.code ?? 'Several cultures'}: ${titleOf({ kind: work.kind, fields: body.fields }).toLowerCase()}`;
  if (isPart(request)) return partOf('needs-you', '', `${what}. ${keptWords(work)}`);
  const { searchParams } = new URL(request.url);
  const [from] = [searchParams.get('from'), ...valuesOf(body.fields, 'from')].filter(Boolean);
  return Response.redirect(at(roundPath(partFrom(from))), 303);
}
