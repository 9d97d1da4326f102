// Worker: a form of the round that found no network is kept, with the key it was sent under, so that the server writes
// it once even where it had arrived and only the answer was lost.

import { keptCopy, madeAtOf } from './copies.js';
import { dayOf, readBody, titleOf, valuesOf } from './forms.js';
import { inTime } from './in-time.js';
import { htmlOf, pageOf } from './plain-page.js';
import { send } from './send.js';
import { addEntry, allEntries, dropEntry, fact, rememberSent, sentWith, setFact, tell } from './store.js';

/** A line that is half there must not hold up whoever stands before the shelf. */
const patienceMs = 12_000;

async function digest(fields) {
  const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(JSON.stringify(fields)));
  return btoa(String.fromCharCode(...new Uint8Array(bytes)));
}

const isOwn = (entry, person) => entry.personId === person.id;

/** Sends a form of the round; keeps it where there is no network, or where others wait that come first. */
export async function sendOrKeep(event, work) {
  const { request } = event;
  const body = readBody(await request.clone().text());
  const person = await fact('person').catch(() => null);
  if (!person) return fetch(request).catch(() => notKept(request, body));
  if (await earlierWaits(person)) await inTime(send({ wait: true }), patienceMs).catch(() => {});
  if (await earlierWaits(person)) return keepAndAnswer(request, work, body, person);
  try {
    const answer = await inTime(fetch(request), patienceMs);
    const isTaken = answer.type === 'opaqueredirect' || answer.ok;
    if (isTaken) event.waitUntil(noteTaken(request, body).catch(() => {}));
    return answer;
  } catch {
    return keepAndAnswer(request, work, body, person);
  }
}

async function earlierWaits(person) {
  const entries = await allEntries().catch(() => []);
  return entries.some((entry) => entry.state === 'waiting' && isOwn(entry, person));
}

async function noteTaken(request, { formKey, fields, mends }) {
  const { pathname } = new URL(request.url);
  await rememberSent(`${pathname} ${formKey}`, await digest(fields), Date.now());
  if (mends) await dropEntry(mends);
  tell({ changed: true });
}

/** What a kept form says besides what was typed: its day, and for several cultures what was done at each. */
async function completed(fields, { kind }, day) {
  const more = [];
  if (!fields.some(([name, value]) => name === 'onDay' && value !== '')) more.push(['onDay', day]);
  if (kind === 'many' && valuesOf(fields, 'did').length > 0) {
    const along = await alongOnRound();
    for (const code of valuesOf(fields, 'codes'))
      if (along.has(code)) more.push(['along', `${along.get(code).replaceAll(' ', ',')} ${code}`]);
  }
  return [...fields.filter(([name, value]) => name !== 'onDay' || value !== ''), ...more];
}

/** What one tap can say was done at each culture, as the kept round shows it. */
async function alongOnRound() {
  const copy = await keptCopy('/round');
  const html = copy ? await copy.text() : '';
  const unescaped = (text) => text.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&amp;', '&');
  const rows = html.matchAll(/data-code="([^"]*)" data-along="([^"]*)"/g);
  return new Map([...rows].map(([, code, along]) => [unescaped(code), along]));
}

/** Null where the same form was kept or sent before: then there is nothing new in it. */
async function keyFor(pathname, formKey, said) {
  const before = await sentWith(`${pathname} ${formKey}`);
  const kept = (await allEntries()).find((entry) => entry.path === pathname && entry.formKey === formKey);
  if (before?.said === said || kept?.said === said) return null;
  return before || kept || formKey === '' ? crypto.randomUUID() : formKey;
}

async function keep(request, work, body, person) {
  const { pathname, search } = new URL(request.url);
  const writtenAt = Date.now();
  const said = await digest(body.fields);
  const formKey = await keyFor(pathname, body.formKey, said);
  if (formKey === null) return;
  const day = dayOf(writtenAt, await fact('timeZone'));
  const fields = await completed(body.fields, work, day);
  const codes = work.code === null ? valuesOf(fields, 'codes') : [work.code];
  const heardAt = (await fact('heardAt')) ?? writtenAt;
  const seenAt = (await madeAtOf(request.referrer)) ?? heardAt;
  const entry = { kind: work.kind, path: pathname, search, formKey, fields, said, codes, writtenAt, seenAt };
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
    return notKept(request, body);
  }
  const what = `${work.code ?? 'Several cultures'}: ${titleOf({ kind: work.kind, fields: body.fields }).toLowerCase()}`;
  if (isPart(request))
    return partOf('needs-you', '', `${what}. Kept on this device, sent when there is a signal.`);
  return Response.redirect('/round', 303);
}

const isPart = (request) => request.headers.get('hx-request') === 'true';

/** An answer for htmx that changes nothing but the notice. */
function partOf(tone, word, text) {
  const words = `${word ? `<strong class="notice-word">${word}: </strong>` : ''}${htmlOf(text)}`;
  const notice = `<div class="notice notice-${tone}"><div class="notice-words">${words} <a href="/waiting">What waits</a></div></div>`;
  const slot = `<div id="notice" class="notice-slot" role="status" hx-swap-oob="true">${notice}</div>`;
  return new Response(slot, { headers: { 'content-type': 'text/html; charset=utf-8', 'hx-reswap': 'none' } });
}

/** Neither sent nor kept: said plainly, with everything that was typed. */
function notKept(request, { fields }) {
  const text =
    'There is no signal, and this browser could not keep what you wrote: its store is full or closed. Nothing was written down.';
  if (isPart(request)) return partOf('harm', 'Take care', text);
  return pageOf({
    title: 'Not sent and not kept',
    status: 503,
    sentences: [text, 'Go back: what you typed is still in the form. Send it again when there is a signal.'],
    typed: fields.filter(([, value]) => value !== ''),
  });
}

const notOfTheRound = {
  title: 'No signal: not sent',
  sentences: [
    'This form is not one of the round, so it is not kept. Nothing was written down.',
    'Go back: what you typed is still in the form. Send it again when there is a signal.',
  ],
};

/** A form that is not kept: says so when there is no network. */
export async function sendPlain(request, words = notOfTheRound) {
  try {
    return await fetch(request);
  } catch {
    return pageOf({ ...words, status: 503 });
  }
}
