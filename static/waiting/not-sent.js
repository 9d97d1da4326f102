// Worker: what is said when a form could be neither sent nor kept. What was typed stays on the page, ready to be sent
// again: browsers do not bring it back by themselves.

import { at } from './at.js';
import { readBody } from './forms.js';
import { htmlOf, pageOf } from './plain-page.js';

export const isPart = (request) => request.headers.get('hx-request') === 'true';

/** An answer for htmx that changes nothing but the notice. */
export function partOf(tone, word, text) {
  const words = `${word ? `<strong class="notice-word">${word}: </strong>` : ''}${htmlOf(text)}`;
  const notice = `<div class="notice notice-${tone}"><div class="notice-words">${words} <a href="${at('/waiting')}">What waits</a></div></div>`;
  const slot = `<div id="notice" class="notice-slot" role="status" hx-swap-oob="true">${notice}</div>`;
  return new Response(slot, { headers: { 'content-type': 'text/html; charset=utf-8', 'hx-reswap': 'none' } });
}

const again =
  'Leave this page open and send it again when there is a signal; it is written once, however often it is sent.';

/** The page with everything that was typed, but for what nobody should read over a shoulder. */
function pageToSendAgain(request, text, words) {
  const { pathname, search } = new URL(request.url);
  const typed = readBody(text).fields.filter(([, value]) => value !== '');
  const isSecret = typed.some(([name]) => /password|token/i.test(name));
  return pageOf({
    ...words,
    status: 503,
    ...(!isSecret && { typed, form: { action: pathname + search, fields: [...new URLSearchParams(text)] } }),
  });
}

export function notKept(request, text) {
  const why =
    'There is no signal, and this browser could not keep what you wrote: its store is full or closed.';
  if (isPart(request)) return partOf('harm', 'Take care', `${why} Tap again when there is a signal.`);
  return pageToSendAgain(request, text, { title: 'Not sent and not kept', sentences: [why, again] });
}

const notOfTheRound = {
  title: 'No signal: not sent',
  sentences: ['This form is not one of the round, so it is not kept by itself.', again],
};

/** A form that is not kept: says so when there is no network. */
export async function sendPlain(request, words = notOfTheRound) {
  const text = await request.clone().text();
  try {
    return await fetch(request);
  } catch {
    return pageToSendAgain(request, text, words);
  }
}
