// The page of what waits: own entries with what was typed, what the server said against one, what others wrote at the
// same culture meanwhile. Of other people's entries only that they are there.

import { at, named } from './at.js';
import { formHref, saidIn, titleOf } from './forms.js';
import { allEntries, changeEntry, dropEntry, fact, tell } from './store.js';

const list = document.getElementById('waiting-list');

function element(name, props = {}, ...children) {
  const made = Object.assign(document.createElement(name), props);
  made.append(...children.filter((child) => child !== null && child !== ''));
  return made;
}

const button = (label, onclick, kind = 'plain') =>
  element('button', { type: 'button', className: `button button-${kind}`, onclick }, label);

const timeOf = (instant) =>
  new Intl.DateTimeFormat('en-GB', {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
  }).format(instant);

const change = async (entry, changes) => {
  await changeEntry(entry.id, changes);
  tell({ changed: true });
  await show();
};

/** What the server said, as words: the messages of a form, or the sentence of a page. */
function answerWords({ answer, status }) {
  if (!answer?.startsWith('<')) return answer || `The server answered ${status}.`;
  const page = new DOMParser().parseFromString(answer, 'text/html');
  const summary = page.querySelectorAll('.error-summary li');
  const found =
    summary.length > 0 ? summary : page.querySelectorAll('.objections p, .objections li, .field-error');
  const messages = [...new Set([...found].map((one) => one.textContent.trim()))].filter(Boolean);
  if (messages.length > 0) return messages.join(' ');
  return page.querySelector('main p')?.textContent.trim() || `The server answered ${status}.`;
}

function throwAway(entry) {
  const ask = element('details', { className: 'kept-throw' });
  const sure =
    entry.tries > 0 && entry.state === 'waiting'
      ? ' It was on its way once already, so it may have arrived: look at the diary.'
      : '';
  ask.append(
    element('summary', {}, 'Throw away'),
    element('p', {}, `Throw this away without sending it?${sure}`),
    button(
      'Throw it away',
      () => change(entry, { state: 'thrown', was: entry.state, thrownAt: Date.now() }),
      'harm',
    ),
  );
  return ask;
}

const dayWords = (day) =>
  new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short' }).format(
    new Date(`${day}T12:00`),
  );

function typed(entry) {
  const items = saidIn(entry).map(([name, value]) =>
    element(
      'li',
      {},
      element('span', { className: 'quiet' }, `${name}: `),
      /^\d{4}-\d\d-\d\d$/.test(value) ? dayWords(value) : value,
    ),
  );
  return items.length > 0 ? element('ul', { className: 'kept-said' }, ...items) : null;
}

function theirs(others) {
  const items = others.map(({ code, what, by, at }) =>
    element('li', {}, element('span', { className: 'quiet' }, `${by}, ${timeOf(at)}, ${code}: `), what),
  );
  return element(
    'div',
    { className: 'kept-half' },
    element('h4', {}, 'Written by others meanwhile'),
    element('ul', {}, ...items),
  );
}

/** Both, side by side: what was written here and what others wrote. */
function contents(entry) {
  if (!entry.others || entry.others.length === 0) return typed(entry);
  const mine = element('div', { className: 'kept-half' }, element('h4', {}, 'Written by you'));
  mine.append(typed(entry) ?? element('p', {}, titleOf(entry)));
  return element('div', { className: 'kept-halves' }, mine, theirs(entry.others));
}

function actions(entry) {
  const again = element(
    'a',
    { className: 'button button-main', href: at(formHref(entry)) },
    'Open the form again',
  );
  const retry = button('Send again', () => change(entry, { state: 'waiting', faults: 0 }).then(askToSend));
  const made = {
    waiting: () => [throwAway(entry)],
    refused: () => [again, retry, throwAway(entry)],
    both: () => [
      button(
        'Seen',
        async () => {
          await dropEntry(entry.id);
          tell({ changed: true });
          await show();
        },
        'main',
      ),
    ],
    thrown: () => [button('Take it back', () => change(entry, { state: entry.was ?? 'waiting' }))],
  }[entry.state];
  return element('div', { className: 'actions' }, ...(made?.() ?? []));
}

function codesOf({ codes }) {
  const links = codes
    .slice(0, 8)
    .map((code) =>
      element('a', { className: 'code', href: at(`/cultures/${encodeURIComponent(code)}`) }, code),
    );
  const rest = codes.length > 8 ? ` and ${codes.length - 8} more` : '';
  return element('span', {}, ...links.flatMap((link) => [link, ' ']), rest);
}

function card(entry) {
  const head = element('h3', {}, codesOf(entry), titleOf(entry));
  const when = element(
    'p',
    { className: 'quiet' },
    `Written ${timeOf(entry.writtenAt)}${entry.tries > 0 && entry.state === 'waiting' ? ', on its way once already' : ''}`,
  );
  const refusal =
    entry.state === 'refused'
      ? element('p', { className: 'kept-answer' }, element('strong', {}, 'Not taken: '), answerWords(entry))
      : null;
  const body = contents(entry);
  const item = element('li', { className: `kept-entry kept-${entry.state}` }, head, when);
  item.append(...[refusal, body, actions(entry)].filter(Boolean));
  item.dataset.entry = String(entry.id);
  return item;
}

function section(title, entries, words) {
  if (entries.length === 0) return null;
  return element(
    'section',
    {},
    element('h2', {}, title),
    words ? element('p', {}, words) : null,
    element('ul', { className: 'kept-entries' }, ...entries.map(card)),
  );
}

const askToSend = async () =>
  (await navigator.serviceWorker.getRegistration())?.active?.postMessage({ please: 'send' });

function ofOthers(entries) {
  const names = [...new Set(entries.map(({ personName }) => personName || 'somebody else'))];
  return names.map((name) => {
    const count = entries.filter(({ personName }) => (personName || 'somebody else') === name).length;
    return element(
      'p',
      { className: 'kept-others' },
      `${count} waiting of ${name}: sent when ${name} signs in on this device.`,
    );
  });
}

function waitingWords(signedOut) {
  if (signedOut)
    return element(
      'p',
      { className: 'kept-answer' },
      'Nobody is signed in. ',
      element('a', { href: at('/sign-in?next=%2Fwaiting') }, 'Sign in to send'),
      ' what waits.',
    );
  return element('p', { className: 'actions' }, button('Send now', askToSend, 'main'));
}

async function show() {
  const [all, person, signedOut] = [await allEntries(), await fact('person'), await fact('signedOut')];
  const own = all.filter(({ personId }) => personId === person?.id);
  const others = all.filter(({ personId, state }) => personId !== person?.id && state === 'waiting');
  const inState = (state) => own.filter((entry) => entry.state === state);
  const waiting = inState('waiting');
  const parts = [
    ...ofOthers(others),
    section('Refused', inState('refused'), 'The server did not take these. Nothing of them is lost.'),
    section(
      'Others wrote there too',
      inState('both'),
      'Yours is written down as well. Look whether both can be true.',
    ),
    waiting.length > 0 ? waitingWords(signedOut) : null,
    section(`${waiting.length} waiting`, waiting),
    section('Thrown away', inState('thrown'), 'Kept here for two weeks.'),
  ].filter(Boolean);
  if (parts.length === 0)
    parts.push(
      element(
        'p',
        { className: 'empty-title' },
        'Nothing waits. All that was written on this device is sent.',
      ),
    );
  list.replaceChildren(...parts);
  list.dataset.state = 'shown';
}

function cannot(why) {
  list.replaceChildren(
    element('p', { className: 'empty-title' }, 'This browser cannot keep entries.'),
    element(
      'p',
      {},
      `${why} Forms are sent at once, and one that could not be sent stays open in the browser.`,
    ),
  );
  list.dataset.state = 'shown';
}

export function start({ canKeep }) {
  const needs =
    'It needs an address that begins with https, a current browser, and a window that is not private.';
  if (!canKeep) return cannot(needs);
  if (document.documentElement.dataset.cannotKeep) return cannot(needs);
  document.addEventListener('cannot-keep', () => cannot(needs));
  new BroadcastChannel(named('waiting')).addEventListener('message', show);
  show().catch(() => cannot(needs));
}
