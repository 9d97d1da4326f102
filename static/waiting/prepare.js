// Worker: fetches ahead, while there is a signal, what the round needs without one. One page at a time with a pause
// between, so that nobody else waits for it, and no more than fit a walk.

import { keepAssetsOf } from './assets.js';
import { isFresh, keepCopy, noteAnswer } from './copies.js';
import { countMethods } from './show-copy.js';
import { fact, setFact } from './store.js';

const everyMs = 10 * 60_000;
const cultureFreshMs = 6 * 3_600_000;
const mostCultures = 80;
const pauseMs = 150;

const pause = () => new Promise((resolve) => setTimeout(resolve, pauseMs));

const fetchAhead = (path) =>
  fetch(path, { headers: { 'for-later': 'yes' }, redirect: 'error', cache: 'no-store' });

export const prepare = () =>
  navigator.locks.request('prepare-round', { ifAvailable: true }, async (lock) => {
    if (!lock) return;
    const [person, last] = [await fact('person'), await fact('prepared')];
    if (last && last.id === person?.id && Date.now() - last.at < everyMs) return;
    // Where the signal goes meanwhile, the next page begins anew.
    await fetchAll();
    await setFact('prepared', { id: (await fact('person'))?.id, at: Date.now() });
  });

async function fetchAll() {
  const html = await keepPage('/round');
  await keepAssetsOf(html);
  const forms = ['check', 'check?quarantine=yes', ...countMethods.map((method) => `count?method=${method}`)];
  for (const form of forms) await keepPage(`/waiting/forms/${form}`);
  await keepPage('/waiting');
  const list = await fetchAhead('/waiting/cultures');
  if (list.ok) await keepCopy(new URL('/waiting/cultures', self.location.origin), list);
  const codes = [...html.matchAll(/<li[^>]*data-code="([^"]*)"/g)].map(([, code]) =>
    code.replaceAll('&amp;', '&'),
  );
  for (const code of codes.slice(0, mostCultures)) {
    const path = `/cultures/${encodeURIComponent(code)}`;
    if (await isFresh(path, cultureFreshMs)) continue;
    await pause();
    await keepPage(path);
  }
}

async function keepPage(path) {
  const answer = await fetchAhead(path);
  if (!answer.ok) throw new Error(`${path} answered ${answer.status}`);
  const text = await answer.clone().text();
  await noteAnswer(new URL(path, self.location.origin), answer);
  return text;
}
