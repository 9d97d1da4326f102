// The round: rows with something that waits say so, and follow when it is sent.

import { at, named } from './at.js';
import { titleOf } from './forms.js';
import { allEntries, fact } from './store.js';

function mark(row, entries) {
  row.querySelector('.round-kept')?.remove();
  row.classList.toggle('round-row-kept', entries.length > 0);
  if (entries.length === 0) return;
  const link = document.createElement('a');
  link.className = 'round-kept';
  link.href = at('/waiting');
  const titles = entries.map(titleOf).join(', ');
  const refused = entries.some(({ state }) => state === 'refused');
  link.textContent = refused ? `${titles}: refused, see why` : `${titles}: waiting to be sent`;
  row.querySelector('.round-what').append(link);
}

/** The progress counts what the server knows; what waits is said beside it. */
function sayProgress(count) {
  const words = document.querySelector('#round-progress .progress span');
  if (!words) return;
  words.querySelector('.round-kept-count')?.remove();
  if (count === 0) return;
  const said = document.createElement('span');
  said.className = 'round-kept-count';
  said.textContent = `, ${count} waiting to be sent`;
  words.append(said);
}

async function markAll() {
  const person = await fact('person');
  const open = (await allEntries()).filter(
    ({ state, personId }) => personId === person?.id && (state === 'waiting' || state === 'refused'),
  );
  sayProgress(open.filter(({ state }) => state === 'waiting').length);
  for (const row of document.querySelectorAll('#round [data-code]'))
    mark(
      row,
      open.filter(({ codes }) => codes.includes(row.dataset.code)),
    );
}

/** What was sent changes rows: a copy is loaded anew, an open round asks for those rows. */
function follow({ data }, isKept) {
  markAll();
  if (!data.sentCodes || data.sentCodes.length === 0) return;
  if (isKept) location.reload();
  else if (window.htmx) {
    const { part } = document.querySelector('#round').dataset;
    const shown = (code) => document.querySelector(`#round [data-code="${CSS.escape(code)}"]`) !== null;
    const list = (isAsked) => JSON.stringify(data.sentCodes.filter(isAsked).slice(0, 120));
    const asked = new URLSearchParams({
      codes: list(shown),
      others: list((code) => !shown(code)),
      ...(part && { part }),
    });
    window.htmx.ajax('GET', at(`/round/rows?${asked}`), { target: '#round', swap: 'none' });
  }
}

export function start({ canKeep, isKept }) {
  if (!canKeep) return;
  markAll();
  new BroadcastChannel(named('waiting')).addEventListener('message', (event) => follow(event, isKept));
  document.addEventListener('htmx:afterSettle', markAll);
}
