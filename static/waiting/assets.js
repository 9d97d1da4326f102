// Worker: styles, scripts and fonts, kept so that a copy of a page looks and works like the page.

import { inside, named } from './at.js';
import { inTime } from './in-time.js';

const assets = named('kept-assets');
const patienceMs = 3_000;

/** What bears its version never changes. */
const isFixed = ({ pathname, searchParams }) =>
  searchParams.has('v') || /^\/static\/(fonts|waiting-[0-9a-f]+)\//.test(inside(pathname));

const moduleIn = (address) =>
  /^\/static\/waiting-[0-9a-f]+\/([\w-]+\.js)$/.exec(inside(new URL(address).pathname))?.[1];

/** A copy of a page from before an upgrade works with what is kept since. */
async function ofAnotherVersion(cache, request) {
  const name = moduleIn(request.url);
  if (!name) return cache.match(request, { ignoreSearch: true });
  const same = (await cache.keys()).find(({ url }) => moduleIn(url) === name);
  return same && cache.match(same);
}

/** What never changes comes from the store; the rest is asked for first. */
export async function assetFor(request) {
  const cache = await caches.open(assets);
  const kept = await cache.match(request);
  if (kept && isFixed(new URL(request.url))) return kept;
  try {
    return await (kept ? inTime(fetch(request), patienceMs) : fetch(request));
  } catch (error) {
    const other = kept ?? (await ofAnotherVersion(cache, request));
    if (other) return other;
    throw error;
  }
}

const modules = ['at', 'store', 'forms', 'list', 'round', 'refill'];

/** The modules that the one of a page imports lie beside it. */
const besideModuleOf = (linked) =>
  linked
    .filter((path) => /\/waiting-[0-9a-f]+\/page\.js$/.test(path))
    .flatMap((path) => modules.map((name) => path.replace(/page\.js$/, `${name}.js`)));

/** Keeps what a page needs, and what its styles need; what no page needs any more goes. */
export async function keepAssetsOf(html) {
  const cache = await caches.open(assets);
  const linked = [...html.matchAll(/(?:href|src)="(\/[^"]+)"/g)]
    .map(([, path]) => path.replaceAll('&amp;', '&'))
    .filter((path) => inside(path).startsWith('/static/'));
  const wanted = new Set([...linked, ...besideModuleOf(linked)]);
  for (const path of [...wanted]) {
    const answer = await keptOrFetched(cache, path);
    if (!/\.css\b/.test(path)) continue;
    for (const [, inner] of (await answer.text()).matchAll(/url\(["']?([^"')]+)["']?\)/g)) {
      const { pathname, origin } = new URL(inner, new URL(path, self.location.origin));
      if (origin !== self.location.origin) continue;
      wanted.add(pathname);
      await keptOrFetched(cache, pathname);
    }
  }
  for (const request of await cache.keys()) {
    const { pathname, search } = new URL(request.url);
    if (!wanted.has(pathname + search)) await cache.delete(request);
  }
}

async function keptOrFetched(cache, path) {
  const kept = await cache.match(path);
  if (kept) return kept;
  const answer = await fetch(path);
  if (answer.ok) await cache.put(path, answer.clone());
  return answer;
}
