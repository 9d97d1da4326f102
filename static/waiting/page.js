// On every page: how much waits is said on top, what waits is sent when there may be a signal, a kept copy says that
// it is one. Without what it needs (a secure address, a store, a worker) the pages stay as they are.

import { at, named } from './at.js';
import { allEntries, fact, setFact } from './store.js';

const slot = document.getElementById('kept-count');
const isKept = document.documentElement.dataset.kept === 'yes';
const canKeep =
  window.isSecureContext && 'serviceWorker' in navigator && 'indexedDB' in window && 'locks' in navigator;
const firstWaitMs = 4_000;
const longestWaitMs = 60_000;
let waitMs = firstWaitMs;
let timer;

/** Asks the worker, also one that is so new that this page does not go through it yet. */
const please = async (work) =>
  (await navigator.serviceWorker.getRegistration())?.active?.postMessage({ please: work });

/** Short enough for a phone's head: "3 waiting", "3 waiting, 1 to see", "2 waiting of Hal". */
function words({ entries, person, signedOut }) {
  const own = entries.filter(({ personId }) => personId === person?.id);
  const inState = (...states) => own.filter(({ state }) => states.includes(state)).length;
  const [waiting, toSee] = [inState('waiting'), inState('refused', 'both')];
  const others = entries.filter((entry) => entry.personId !== person?.id && entry.state === 'waiting');
  const parts = [];
  if (waiting > 0) parts.push(signedOut ? `${waiting} waiting: sign in` : `${waiting} waiting`);
  if (toSee > 0) parts.push(`${toSee} to see`);
  if (others.length > 0) parts.push(`${others.length} waiting of ${others[0].personName || 'somebody else'}`);
  return { waiting, text: parts.join(', ') };
}

async function show() {
  const [entries, person, signedOut] = [await allEntries(), await fact('person'), await fact('signedOut')];
  const { waiting, text } = words({ entries, person, signedOut });
  if (slot && slot.textContent !== text) {
    const link = document.createElement('a');
    link.href = at('/waiting');
    link.textContent = text;
    slot.replaceChildren(...(text ? [link] : []));
  }
  if (waiting > 0) askToStay();
  clearTimeout(timer);
  if (waiting > 0) timer = setTimeout(tryLater, waitMs);
  else waitMs = firstWaitMs;
}

let hasAsked = false;

/** A browser that is short of room clears what it was not asked to keep. */
function askToStay() {
  if (hasAsked) return;
  hasAsked = true;
  navigator.storage?.persist?.().catch(() => {});
}

function tryLater() {
  waitMs = Math.min(longestWaitMs, waitMs * 2);
  if (document.visibilityState === 'visible') please('send');
  timer = setTimeout(tryLater, waitMs);
}

function tryNow() {
  waitMs = firstWaitMs;
  please('send');
}

/** The round goes on with what is true now; a form that is being filled in is left alone. */
function signalIsBack() {
  tryNow();
  if (isKept && document.querySelector('#round')) location.reload();
}

async function sayWhatWasKept() {
  const id = await fact('justKept');
  if (!id) return;
  await setFact('justKept', 0);
  const entry = (await allEntries()).find((one) => one.id === id);
  const notices = document.getElementById('notice');
  if (!entry || !notices) return;
  const { keptWords, titleOf } = await import('./forms.js');
  const notice = document.createElement('div');
  notice.className = 'notice notice-needs-you';
  const what = entry.codes.length === 1 ? entry.codes[0] : `${entry.codes.length} cultures`;
  const link = document.createElement('a');
  link.href = at('/waiting');
  link.textContent = 'What waits';
  const said = document.createElement('div');
  said.className = 'notice-words';
  said.append(`${what}: ${titleOf(entry).toLowerCase()}. ${keptWords(entry)} `, link);
  notice.append(said);
  notices.replaceChildren(notice);
}

async function begin() {
  // The notice of the copy's own time is long over.
  if (isKept) document.getElementById('notice')?.replaceChildren();
  await show();
  await sayWhatWasKept();
  new BroadcastChannel(named('waiting')).addEventListener('message', show);
  window.addEventListener('online', signalIsBack);
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && tryNow());
  if (document.body.classList.contains('page-signed-in')) {
    await navigator.serviceWorker.register(at('/sw.js'), { type: 'module', updateViaCache: 'imports' });
    await navigator.serviceWorker.ready;
  }
  tryNow();
  if (!isKept && document.body.classList.contains('page-signed-in')) please('prepare');
}

const parts = { '#round': './round.js', '#waiting-list': './list.js' };
for (const [selector, module] of Object.entries(parts))
  if (document.querySelector(selector)) import(module).then(({ start }) => start({ canKeep, isKept }));
if (/^#kept-\d+$/.test(location.hash))
  import('./refill.js').then(({ start }) => start(Number(location.hash.slice(6))));
if (canKeep)
  begin().catch((error) => {
    document.documentElement.dataset.cannotKeep = String(error?.message ?? error);
    document.dispatchEvent(new Event('cannot-keep'));
  });
