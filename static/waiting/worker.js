// The service worker: stands between every page and the network. With a signal it only looks on; without one it shows
// the copies it has kept and keeps the forms of the round until they can be sent. Answered as /sw.js, so it names its
// modules from there.

import { assetFor } from './static/waiting/assets.js';
import { inside } from './static/waiting/at.js';
import { forgetPerson, keptCopy, noteAnswer } from './static/waiting/copies.js';
import { workAt } from './static/waiting/forms.js';
import { inTime } from './static/waiting/in-time.js';
import { sendOrKeep } from './static/waiting/keep.js';
import { isPart, sendPlain } from './static/waiting/not-sent.js';
import { prepare } from './static/waiting/prepare.js';
import { isNotNow, send } from './static/waiting/send.js';
import { pageWithoutSignal } from './static/waiting/show-copy.js';

/** A half dead line gets so long before a copy is shown in its place. */
const patienceMs = 6_000;

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('message', (event) => {
  const work = { send, prepare }[event.data?.please];
  if (work) event.waitUntil(work().catch(() => {}));
});

self.addEventListener('sync', (event) => {
  if (event.tag === 'send-waiting') event.waitUntil(send({ wait: true }));
});

self.addEventListener('fetch', (event) => {
  const answer = answerTo(event);
  if (answer) event.respondWith(answer);
});

/** Null leaves the request to the browser, as if there were no worker. */
function answerTo(event) {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin) return null;
  const path = inside(url.pathname);
  if (request.method === 'GET') {
    if (path.startsWith('/static/')) return assetFor(request);
    if (request.mode === 'navigate') return pageFor(event, url);
    return path === '/round' && isPart(request) ? partFor(event, url) : null;
  }
  const isForm = request.headers.get('content-type')?.startsWith('application/x-www-form-urlencoded');
  if (request.method !== 'POST' || !isForm) return null;
  if (path === '/sign-out') return signOut(event);
  const work = workAt(path);
  if (work) return sendOrKeep(event, work);
  return request.mode === 'navigate' ? sendPlain(request) : null;
}

/** Every page of the service bears its policy; what a proxy says while there is no service does not. */
const isOurs = ({ headers }) => headers.has('content-security-policy');

async function fetchPage(event, url) {
  const asked = fetch(event.request);
  const answer = (await keptCopy(url)) ? await inTime(asked, patienceMs) : await asked;
  if (isNotNow(answer) && !isOurs(answer)) throw new Error('the service is not there');
  event.waitUntil(
    noteAnswer(url, answer)
      .then(() => send())
      .catch(() => {}),
  );
  return answer;
}

const pageFor = (event, url) => fetchPage(event, url).catch(() => pageWithoutSignal(url));

/** A part of the round that htmx asks for: without a signal the whole page is gone to, so that it says it is a copy. */
async function partFor(event, url) {
  try {
    return await fetchPage(event, url);
  } catch (error) {
    if (!(await keptCopy(url))) throw error;
    return new Response('', { headers: { 'hx-redirect': url.pathname + url.search } });
  }
}

/** Their pages go from this device whether or not the server hears of it. */
async function signOut(event) {
  await forgetPerson().catch(() => {});
  return sendPlain(event.request, {
    title: 'Signed out on this device only',
    sentences: [
      'There is no signal, so the server has not heard of it. The pages that were kept on this device are gone.',
      'Sign out again when there is a signal. What waits to be sent stays here for whoever wrote it.',
    ],
  });
}
