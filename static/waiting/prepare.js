// Worker: fetches ahead, while there is a signal, what the round needs without one. One page at a time with a pause
// between, so that nobody else waits for it, and no more than fit a walk.

import { keepAssetsOf } from './assets.js';
import { at, named } from './at.js';
import { dropPartsAfter, isFresh, keepCopy, keptCopy, madeAtOf, noteAnswer, urlOf } from './copies.js';
import { dayOf, roundPath } from './forms.js';
import { checkAsked, countMethods } from './show-copy.js';
import { fact, setFact } from './store.js';

const everyMs = 10 * 60_000;
const cultureFreshMs = 6 * 3_600_000;
const mostCultures = 80;
/** A part that somebody has just looked at, or that was fetched at the start of a walk, is not fetched again so soon. */
const partFreshMs = 30 * 60_000;
/** Together some thousands of cultures. */
const mostParts = 40;
const pauseMs = 150;

const pause = () => new Promise((resolve) => setTimeout(resolve, pauseMs));

const fetchAhead = (path) =>
  fetch(at(path), { headers: { 'for-later': 'yes' }, redirect: 'error', cache: 'no-store' });

export const prepare = () =>
  navigator.locks.request(named('prepare-round'), { ifAvailable: true }, async (lock) => {
    if (!lock) return;
    const [person, last] = [await fact('person'), await fact('prepared')];
    if (last && last.id === person?.id && Date.now() - last.at < everyMs) return;
    // Where the signal goes meanwhile, the next page begins anew.
    await fetchAll();
    await setFact('prepared', { id: (await fact('person'))?.id, at: Date.now() });
  });

const unescaped = (text) => text.replaceAll('&quot;', '"').replaceAll('&lt;', '<').replaceAll('&amp;', '&');

const numberIn = (html, name) => Number(new RegExp(` ${name}="(\\d+)"`).exec(html)?.[1] ?? 1);

async function isFreshPart(path) {
  const zone = await fact('timeZone');
  const isOfToday = dayOf((await madeAtOf(path)) ?? 0, zone) === dayOf(Date.now(), zone);
  return isOfToday && (await isFresh(path, partFreshMs));
}

/** All parts of the round, those that are walked next first. Gives their texts in that order. */
async function keepRound() {
  const shown = await keepPage('/round');
  const [part, of] = [numberIn(shown, 'data-part'), numberIn(shown, 'data-parts')];
  const texts = [shown];
  const walk = Array.from(
    { length: of > 1 ? Math.min(of, mostParts) : 0 },
    (_, i) => ((part - 1 + i) % of) + 1,
  );
  for (const number of walk) {
    const path = roundPath(number);
    if (await isFreshPart(path)) {
      texts.push((await (await keptCopy(path))?.text()) ?? '');
      continue;
    }
    await pause();
    texts.push(await keepPage(path));
  }
  await dropPartsAfter(of > 1 ? of : 0);
  return texts;
}

/** The list of all cultures, and the blank forms that they need. */
async function keepForms() {
  const list = await fetchAhead('/waiting/cultures');
  if (!list.ok) throw new Error(`the list of cultures answered ${list.status}`);
  const { cultures } = await list.clone().json();
  await keepCopy(urlOf('/waiting/cultures'), list);
  const checks = new Set(['', '?quarantine=yes', ...cultures.map(checkAsked)]);
  const counts = countMethods.map((method) => `count?method=${method}`);
  for (const form of [...[...checks].map((asked) => `check${asked}`), ...counts])
    await keepPage(`/waiting/forms/${form}`);
}

async function fetchAll() {
  const [shown, ...parts] = await keepRound();
  await keepAssetsOf(shown);
  await keepForms();
  await keepPage('/waiting');
  const codes = new Set(
    [shown, ...parts].flatMap((html) =>
      [...html.matchAll(/<li[^>]*data-code="([^"]*)"/g)].map(([, code]) => unescaped(code)),
    ),
  );
  for (const code of [...codes].slice(0, mostCultures)) {
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
  await noteAnswer(urlOf(path), answer);
  return text;
}
