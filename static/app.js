// The little the browser does beyond htmx: where the focus goes, what to say when the line is down.

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
document.addEventListener('htmx:sendError', () => say(noAnswer));
document.addEventListener('htmx:timeout', () => say(noAnswer));

document.addEventListener('htmx:responseError', (event) => {
  const status = event.detail.xhr.status;
  if (status === 401) window.location.reload();
  else if (status === 403)
    say('your account may not do this, or the page was open too long. Reload it and try again.');
  else if (status === 404) say('this is no longer there. Reload the page.');
  else if (status === 429) say('too many tries. Wait a few minutes.');
  else if (status === 503) say('busy just now, nothing was saved. Try again in a moment.');
  else say(`this did not work (answer ${status}). What you typed is still here; try again.`);
});

// Control or Command with K leads to the search (a key alone would get in the way of speech input, WCAG 2.1.4).
document.addEventListener('keydown', (event) => {
  if (event.key.toLowerCase() !== 'k' || event.ctrlKey === event.metaKey || event.altKey || event.shiftKey)
    return;
  const fields = document.querySelectorAll('#search-words, #top-search-words');
  const field = [...fields].find(({ offsetParent }) => offsetParent !== null);
  if (!field) return;
  event.preventDefault();
  field.focus();
  field.select();
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

// The round on several phones: when somebody else has seen to a culture, its row and the progress follow. What this
// page has just sent itself is answered already, so that the focus stays where the thumb left it.
function followRound(round) {
  const settleMs = 800;
  const ownMs = 3000;
  const waiting = new Set();
  const own = new Map();
  let timer;
  let lost = false;
  const fetchRows = () => {
    timer = undefined;
    const codes = [...waiting].filter((code) => Date.now() - (own.get(code) ?? 0) > ownMs).slice(0, 120);
    waiting.clear();
    if (codes.length === 0) return;
    const path = `/round/rows?codes=${encodeURIComponent(JSON.stringify(codes))}`;
    window.htmx.ajax('GET', path, { target: round, swap: 'none' });
  };
  const ask = (codes) => {
    for (const code of codes) waiting.add(code);
    if (timer === undefined) timer = setTimeout(fetchRows, settleMs);
  };
  round.addEventListener('htmx:beforeRequest', (event) => {
    const code = event.target.closest('[data-code]')?.dataset.code;
    if (code) own.set(code, Date.now());
  });
  const source = new EventSource(round.dataset.live);
  source.addEventListener('rows', (event) => ask(JSON.parse(event.data)));
  source.addEventListener('error', () => {
    lost = true;
  });
  // Nobody knows what happened while the line was down.
  source.addEventListener('open', () => {
    if (lost) ask([...round.querySelectorAll('[data-code]')].map((row) => row.dataset.code));
    lost = false;
  });
}

document.addEventListener('DOMContentLoaded', () => {
  const round = document.querySelector('[data-live]');
  if (round && window.EventSource && window.htmx) followRound(round);
});
