// The little the browser does beyond htmx: where the focus goes, what to say when the line is down.

// The service may live under a path of its host: addresses begin where this file's own address does.
const servicePath = new URL('..', document.currentScript.src).pathname;

function focusWhatAsks(root) {
  const asking = root.querySelector('[data-focus="now"]');
  if (!asking) return;
  asking.removeAttribute('data-focus');
  asking.focus();
}

function say(text) {
  const slot = document.getElementById('notice');
  if (!slot) return;
  const notice = document.createElement('div');
  notice.className = 'notice notice-needs-you';
  const words = document.createElement('div');
  words.className = 'notice-words';
  const word = document.createElement('strong');
  word.className = 'notice-word';
  word.textContent = 'Needs you: ';
  words.append(word, text);
  notice.append(words);
  slot.replaceChildren(notice);
}

const noAnswer = 'no answer from the server. What you typed is still here; try again when you have signal.';

document.addEventListener('DOMContentLoaded', () => focusWhatAsks(document));
document.addEventListener('htmx:afterSettle', () => focusWhatAsks(document));
// What is usual in a country arrives while somebody may be choosing in that part already. What they have touched stays as it
// is; what is usual is asked for again, with their choice, once they go on to the next field.
const touched = new WeakSet();
const touch = ({ target, key }) => {
  const part = key === 'Tab' || key === 'Shift' ? null : target.closest?.('[data-follows]');
  if (part) touched.add(part);
};
for (const kind of ['keydown', 'input', 'change']) document.addEventListener(kind, touch);
document.addEventListener('htmx:beforeRequest', ({ detail: { target } }) => touched.delete(target));
document.addEventListener('htmx:beforeSwap', ({ detail }) => {
  const { target, requestConfig } = detail;
  if (!touched.has(target)) return;
  detail.shouldSwap = false;
  const again = () => window.htmx.trigger(requestConfig.elt, 'change');
  if (target.contains(document.activeElement))
    document.activeElement.addEventListener('focusout', again, { once: true });
  else again();
});

// Whoever works with keys goes on where they were: a part that takes the place of the one they pressed in gets the focus.
let pressedIn = null;
document.addEventListener('htmx:beforeSwap', ({ detail: { target, shouldSwap } }) => {
  pressedIn = shouldSwap && target.contains(document.activeElement) ? target.id : null;
});
document.addEventListener('htmx:afterSettle', () => {
  const part = pressedIn && document.getElementById(pressedIn);
  pressedIn = null;
  if (!part || document.activeElement !== document.body) return;
  part
    .querySelector('a[href], button, summary, input:not([type="hidden"]), select')
    ?.focus({ preventScroll: true });
});

// A row that is done has less in it. It keeps its height until the page is opened again, so that nothing below it moves up
// under a thumb that is on its way.
const rowHeights = new Map();
const rememberHeight = ({ detail: { target } }) => {
  if (target?.matches?.('#round [data-code]')) rowHeights.set(target.id, target.offsetHeight);
};
document.addEventListener('htmx:beforeSwap', rememberHeight);
document.addEventListener('htmx:oobBeforeSwap', rememberHeight);
document.addEventListener('htmx:afterSettle', () => {
  for (const [id, height] of rowHeights) {
    const row = document.getElementById(id);
    if (row) row.style.minHeight = `${height}px`;
  }
  rowHeights.clear();
});

document.addEventListener('htmx:sendError', () => say(noAnswer));
document.addEventListener('htmx:timeout', () => say(noAnswer));

document.addEventListener('htmx:responseError', (event) => {
  const status = event.detail.xhr.status;
  if (status === 401) window.location.reload();
  else if (status === 403)
    say('your account may not do this, or the page was open too long. Reload it and try again.');
  else if (status === 404) say('this is no longer there. Reload the page.');
  else if (status === 429) say('too many tries. Wait a few minutes.');
  else if (status === 503 && Number(event.detail.xhr.getResponseHeader('retry-after')) > 10)
    say('nothing can be saved for a while. What you typed is still here; send it again later.');
  else if (status === 503) say('busy just now, nothing was saved. Try again in a moment.');
  else say(`this did not work (answer ${status}). What you typed is still here; try again.`);
});

// Control or Command with K leads to the search (a key alone would get in the way of speech input, WCAG 2.1.4).
document.addEventListener('keydown', (event) => {
  if (event.key.toLowerCase() !== 'k' || event.ctrlKey === event.metaKey || event.altKey || event.shiftKey)
    return;
  const fields = document.querySelectorAll('#search-words, #top-search-words');
  const field = [...fields].find(({ offsetParent }) => offsetParent !== null);
  const link = document.querySelector('.top-search-link');
  if (!field && !link) return;
  event.preventDefault();
  // A narrow window, or one that is enlarged, has no room for the field: its page has.
  if (!field) link.click();
  field?.focus();
  field?.select();
});

// The menu on the phone closes when somebody presses elsewhere or Escape.
function closeMenu(event) {
  const menu = document.querySelector('details.top-menu[open]');
  if (!menu) return;
  if (event.type === 'keydown') {
    if (event.key !== 'Escape') return;
    menu.open = false;
    menu.querySelector('summary').focus();
  } else if (!menu.contains(event.target)) {
    menu.open = false;
  }
}

document.addEventListener('keydown', closeMenu);
document.addEventListener('click', closeMenu);

// The round on several phones: when somebody else has seen to a culture, its row and the progress follow, and what is
// left at places of other parts. What this page has just sent itself is answered already, so that the focus stays where
// the thumb left it. A part that htmx has fetched takes the place of the one before, so the round is looked for anew.
const theRound = () => document.querySelector('#round[data-live]');

function followRound(address) {
  const settleMs = 800;
  const ownMs = 3000;
  const most = 120;
  const waiting = new Set();
  const own = new Map();
  let timer;
  let lost = false;
  const fetchRows = () => {
    timer = undefined;
    const round = theRound();
    const codes = [...waiting].filter((code) => Date.now() - (own.get(code) ?? 0) > ownMs);
    waiting.clear();
    if (!round || codes.length === 0) return;
    const shown = new Set(rowsOf(round));
    const asked = new URLSearchParams({
      codes: JSON.stringify(codes.filter((code) => shown.has(code)).slice(0, most)),
      others: JSON.stringify(codes.filter((code) => !shown.has(code)).slice(0, most)),
    });
    if (round.dataset.part) asked.set('part', round.dataset.part);
    window.htmx.ajax('GET', `${servicePath}round/rows?${asked}`, { target: round, swap: 'none' });
  };
  const rowsOf = (round) => [...round.querySelectorAll('[data-code]')].map((row) => row.dataset.code);
  const ask = (codes) => {
    for (const code of codes) waiting.add(code);
    if (timer === undefined) timer = setTimeout(fetchRows, settleMs);
  };
  document.addEventListener('htmx:beforeRequest', (event) => {
    const code = event.target.closest('#round [data-code]')?.dataset.code;
    if (code) own.set(code, Date.now());
  });
  const source = new EventSource(address);
  source.addEventListener('rows', (event) => ask(JSON.parse(event.data)));
  source.addEventListener('error', () => {
    lost = true;
  });
  // Nobody knows what happened while the line was down.
  source.addEventListener('open', () => {
    const round = theRound();
    if (lost && round) ask(rowsOf(round));
    lost = false;
  });
}

document.addEventListener('DOMContentLoaded', () => {
  const round = theRound();
  if (round && window.EventSource && window.htmx) followRound(round.dataset.live);
});

// Another part of the round stands there now: reading goes on at its beginning.
document.addEventListener('htmx:afterSettle', (event) => {
  if (event.detail.elt?.id === 'round')
    event.detail.elt.querySelector('.round-parts')?.focus({ preventScroll: true });
});
