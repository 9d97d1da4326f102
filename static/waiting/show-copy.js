// Worker: the page that is shown when the network has none. A copy says plainly that it is one, and how old it is.

import { at, inside } from './at.js';
import { keptCopy } from './copies.js';
import { dayOf, partFrom } from './forms.js';
import { htmlOf, pageOf } from './plain-page.js';
import { allEntries, fact } from './store.js';

export async function pageWithoutSignal(url) {
  const path = inside(url.pathname);
  if (path === '/') return Response.redirect(at('/round'), 303);
  const scanned = /^\/c\/([^/]+)$/.exec(path);
  if (scanned) return Response.redirect(at(`/cultures/${scanned[1]}/check`), 303);
  const form = /^\/cultures\/([^/]+)\/(check|count)$/.exec(path);
  const shown = form ? await filledForm(decodeURIComponent(form[1]), form[2], url) : await plainCopy(url);
  return shown ?? nothingKept(url);
}

async function plainCopy(url) {
  const copy = await keptCopy(url);
  return copy && asCopy(copy, await copy.text());
}

/** The form for any culture, filled with what is known of this one. */
async function filledForm(code, name, url) {
  const list = await keptCopy('/waiting/cultures');
  const culture = list && (await list.json()).cultures.find((one) => one.code === code);
  if (!culture) return undefined;
  const asked = name === 'check' ? checkAsked(culture) : methodAsked(url);
  const blank =
    (await keptCopy(`/waiting/forms/${name}${asked}`)) ??
    (await keptCopy(`/waiting/forms/${name}${culture.quarantine ? '?quarantine=yes' : ''}`));
  if (!blank) return undefined;
  const filled = withPart(await blank.text(), url)
    .replaceAll('/cultures/BLANK-CODE', () => `/cultures/${htmlOf(encodeURIComponent(code))}`)
    .replaceAll('BLANK-CODE', () => htmlOf(code))
    .replaceAll('BLANK-NAME', () => htmlOf(culture.name))
    .replaceAll(', BLANK-PLACE', () => (culture.place ? `, ${htmlOf(culture.place)}` : ''))
    .replaceAll('BLANK-CAUTIONS', () => htmlOf(culture.cautions));
  return asCopy(blank, filled);
}

/** The forms of a page lead back to the part of the round it was opened from. */
function withPart(html, url) {
  const from = url.searchParams.get('from');
  if (partFrom(from) === null) return html;
  return html
    .replaceAll('/check?from=round"', `/check?from=${from}"`)
    .replaceAll('/all-well"', `/all-well?from=${from}"`)
    .replaceAll('name="from" value="round"', `name="from" value="${from}"`);
}

/** How the check of a culture is asked for: in quarantine, and what was foretold and is looked for. */
export function checkAsked({ quarantine, open = [] }) {
  const asked = new URLSearchParams({
    ...(quarantine && { quarantine: 'yes' }),
    ...(open.length > 0 && { open: open.join('.') }),
  });
  return asked.size > 0 ? `?${asked}` : '';
}

export const countMethods = ['visible', 'full', 'sample', 'removal', 'mark-recapture'];

function methodAsked(url) {
  const method = url.searchParams.get('method');
  return `?method=${countMethods.includes(method) ? method : 'visible'}`;
}

const two = (number) => String(number).padStart(2, '0');

/** "14:05", or "24 November, 14:05" for another day. */
function timeOf(instant) {
  const at = new Date(instant);
  const time = `${two(at.getHours())}:${two(at.getMinutes())}`;
  if (at.toDateString() === new Date().toDateString()) return time;
  return `${new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long' }).format(at)}, ${time}`;
}

async function asCopy(copy, html) {
  const keptAt = Date.parse(copy.headers.get('date') ?? '') || Date.now();
  const today = dayOf(Date.now(), await fact('timeZone'));
  const words = `<p id="kept-page" class="kept-page"><strong>No signal.</strong> This page is from ${timeOf(keptAt)}. What you write on the round is kept on this device and sent later.</p>`;
  const marked = withFreshKeys(html)
    .replace('<div id="kept-page" hidden></div>', words)
    .replace('<html ', '<html data-kept="yes" ')
    // From copy to copy the whole page is gone to: its head says that it is one.
    .replaceAll(` hx-get="${at('/round')}`, ` data-part-at="${at('/round')}`)
    // The day of a form is that on which it is filled in, not that on which its page was fetched.
    .replace(/<input[^>]*name="onDay"[^>]*>/g, (field) =>
      field.replace(/\b(value|max)="[^"]*"/g, `$1="${today}"`),
    );
  const headers = new Headers(copy.headers);
  for (const name of ['content-encoding', 'content-length', 'set-cookie']) headers.delete(name);
  return new Response(marked, { headers });
}

/** A copy's forms may have been sent before: under a key of its own each showing is another form. */
function withFreshKeys(html) {
  const [, key] = /name="formKey" value="([\w-]{36})/.exec(html) ?? [];
  return key ? html.replaceAll(`value="${key}`, `value="${crypto.randomUUID()}`) : html;
}

async function nothingKept(url) {
  const person = await fact('person').catch(() => null);
  const waiting = (await allEntries().catch(() => [])).filter(({ state }) => state === 'waiting');
  const sentences = [];
  if (!person)
    sentences.push('Nobody is signed in on this device, so no page is kept. Sign in when there is a signal.');
  else if (inside(url.pathname) === '/round' && url.search === '')
    sentences.push('The round was not opened on this device before.');
  else sentences.push('This page is not kept on this device. The round, its cultures and their forms are.');
  if (waiting.length > 0)
    sentences.push(
      `${waiting.length} waiting of ${[...new Set(waiting.map((e) => e.personName))].join(', ')}. Nothing of it is lost.`,
    );
  const links = person
    ? [
        ['/round', 'The round'],
        ['/waiting', 'What waits'],
      ]
    : [];
  return pageOf({ title: 'No signal', status: 503, sentences, links });
}
