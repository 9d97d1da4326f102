// Worker: styles, scripts and fonts, kept so that a copy of a page looks and works like the page.

import { at, inside, named } from './at.js';
import { inTime } from './in-time.js';

const assets = named('kept-assets');
const patienceMs = 3_000;

/** What bears its version never changes and comes from the store; our modules are asked for first. */
export async function assetFor(request) {
  const cache = await caches.open(assets);
  const kept = await cache.match(request);
  const url = new URL(request.url);
  if (kept && (url.searchParams.has('v') || inside(url.pathname).startsWith('/static/fonts/'))) return kept;
  try {
    return await (kept ? inTime(fetch(request), patienceMs) : fetch(request));
  } catch (error) {
    const other = kept ?? (await cache.match(request, { ignoreSearch: true }));
    if (other) return other;
    throw error;
  }
}

const modules = ['page', 'at', 'store', 'forms', 'list', 'round', 'refill'].map((name) =>
  at(`/static/waiting/${name}.js`),
);

/** Keeps what a page needs, and what its styles need; what no page needs any more goes. */
export async function keepAssetsOf(html) {
  const cache = await caches.open(assets);
  const linked = [...html.matchAll(/(?:href|src)="(\/[^"]+)"/g)]
    .map(([, path]) => path.replaceAll('&amp;', '&'))
    .filter((path) => inside(path).startsWith('/static/'));
  const wanted = new Set([...linked, ...modules]);
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
  if (kept && !modules.includes(path)) return kept;
  const answer = await fetch(path);
  if (answer.ok) await cache.put(path, answer.clone());
  return answer;
}
