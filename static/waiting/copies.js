// Worker: the copies of pages that this device keeps, only ever those of whoever is signed in.

import { at, inside, named } from './at.js';
import { partNamed, roundPath } from './forms.js';
import { askSignal } from './signal.js';
import { fact, setFact, tell } from './store.js';

const pages = named('kept-pages');
const mostPages = 140;

const isRoundPage = (path) =>
  path === '/round' ||
  path === '/waiting' ||
  path.startsWith('/waiting/') ||
  (/^\/cultures\/[^/]+$/.test(path) && path !== '/cultures/new');

/** One copy for each page, but blank forms differ by what is asked, and a long round has several parts. */
function nameOf({ pathname, search, searchParams }) {
  const path = inside(pathname);
  if (path.startsWith('/waiting/')) return pathname + search;
  return path === '/round' ? at(roundPath(partNamed(searchParams.get('part')))) : pathname;
}

/** The whole address of a page named as it is inside; what is whole already stays. */
export const urlOf = (address) =>
  new URL(String(address).startsWith('/') ? at(address) : address, self.location.origin);

const pathIn = ({ url }) => inside(new URL(url).pathname);

export const whoseIs = (answer) => answer.headers.get('signed-in-as');

const isPage = (answer) =>
  answer.type === 'basic' && answer.ok && /^text\/html/.test(answer.headers.get('content-type') ?? '');

/**
 * Takes note of a page that the server has answered: whose it is, when it was made, and a copy where it is of use. Only a
 * page that is kept is read here as well: the others go past the worker to the browser as they come.
 */
export async function noteAnswer(url, answer) {
  if (!isPage(answer)) return;
  // before anything is waited for: once the browser reads the page, it cannot be copied any more
  const copy = isRoundPage(inside(url.pathname)) ? answer.clone() : null;
  const id = whoseIs(answer);
  if (id === null) return forgetPerson();
  const person = await fact('person');
  if (person?.id !== id) await takePerson(id);
  await setFact('heardAt', Number(answer.headers.get('made-at')) || Date.now());
  if (copy) await keepCopy(url, copy);
}

export async function keepCopy(url, answer) {
  const cache = await caches.open(pages);
  await cache.put(nameOf(url), answer);
  const all = await cache.keys();
  const spare = all.filter((request) => pathIn(request).startsWith('/cultures/'));
  for (const request of spare.slice(0, Math.max(0, all.length - mostPages))) await cache.delete(request);
}

/** A round that has become shorter has fewer parts. */
export async function dropPartsAfter(last) {
  const cache = await caches.open(pages);
  for (const request of await cache.keys()) {
    const { searchParams } = new URL(request.url);
    if (pathIn(request) === '/round' && (partNamed(searchParams.get('part')) ?? 0) > last)
      await cache.delete(request);
  }
}

/** All kept parts of the round as text, that of an address first, then the newest. */
export async function roundCopies(address) {
  const cache = await caches.open(pages);
  const first = address ? nameOf(new URL(address)) : '';
  const kept = (await cache.keys()).filter((request) => pathIn(request) === '/round');
  const copies = [];
  for (const { url } of kept) {
    const copy = await keptCopy(url);
    if (copy) copies.push({ copy, isFirst: nameOf(new URL(url)) === first });
  }
  const madeAt = ({ copy }) => Number(copy.headers.get('made-at'));
  copies.sort((a, b) => Number(b.isFirst) - Number(a.isFirst) || madeAt(b) - madeAt(a));
  return Promise.all(copies.map(({ copy }) => copy.text()));
}

async function dropCopies() {
  await setFact('person', null);
  await setFact('prepared', null);
  await caches.delete(pages);
}

/** Nobody is signed in here any more: their pages go, what they wrote waits for them. */
export async function forgetPerson() {
  await dropCopies();
  tell({ changed: true });
}

async function takePerson(id) {
  await dropCopies();
  // Who it is is known already; the name may come later.
  await setFact('person', { id, name: '' });
  const session = await askSignal();
  if (typeof session !== 'string' && session.person.id === id) await setFact('person', session.person);
  tell({ changed: true });
}

/** The copy of an address, or undefined; never one of another person. */
export async function keptCopy(address) {
  const person = await fact('person').catch(() => null);
  if (!person) return undefined;
  const cache = await caches.open(pages);
  const copy = await cache.match(nameOf(urlOf(address)));
  if (!copy) return undefined;
  const whose = whoseIs(copy);
  return whose === null || whose === person.id ? copy : undefined;
}

/** When the kept copy of an address was made, by the server's clock. */
export async function madeAtOf(address) {
  if (!address) return undefined;
  const copy = await keptCopy(address);
  return Number(copy?.headers.get('made-at')) || undefined;
}

/** How old a copy may be before it is fetched anew ahead of time. */
export async function isFresh(address, ms) {
  const copy = await keptCopy(address);
  const keptAt = Date.parse(copy?.headers.get('date') ?? '');
  return Number.isFinite(keptAt) && Date.now() - keptAt < ms;
}
