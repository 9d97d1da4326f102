// Counting by taps: keys beside number fields, and marks on a photo. Everything is a form field underneath, so that
// without this script the numbers are typed instead.

// The store is that of the whole host, of which the service may have a path only.
const ours = `broodbench ${new URL('..', document.currentScript.src).pathname} `;

const kept = {
  read(key) {
    try {
      return JSON.parse(sessionStorage.getItem(ours + key) ?? 'null');
    } catch {
      return null;
    }
  },
  write(key, value) {
    try {
      sessionStorage.setItem(ours + key, JSON.stringify(value));
    } catch {
      // A full or forbidden store only loses the safety net.
    }
  },
  forget(key) {
    try {
      sessionStorage.removeItem(ours + key);
    } catch {
      // See above.
    }
  },
};

const buzz = () => navigator.vibrate?.(15);

function tallies(group) {
  const key = group.dataset.tallyKept;
  const inputs = [...group.querySelectorAll('[data-tally] input')];
  const form = group.closest('form');
  const sum = form.querySelector('[data-tally-sum]');
  const show = () => {
    if (!sum) return;
    sum.textContent = `${inputs.reduce((total, input) => total + (Number(input.value) || 0), 0)} in all`;
  };
  const keep = () => {
    kept.write(
      key,
      inputs.map((input) => input.value),
    );
    show();
  };
  const before = kept.read(key);
  if (Array.isArray(before) && inputs.every((input) => input.value === ''))
    inputs.forEach((input, index) => {
      if (typeof before[index] === 'string') input.value = before[index];
    });
  for (const tally of group.querySelectorAll('[data-tally]')) {
    const input = tally.querySelector('input');
    const keys = tally.querySelector('.tally-keys');
    keys.addEventListener('click', (event) => {
      const step = Number(event.target.closest('[data-step]')?.dataset.step);
      if (!step) return;
      input.value = String(Math.max(0, (Number.parseInt(input.value, 10) || 0) + step));
      buzz();
      keep();
    });
    input.addEventListener('input', keep);
  }
  form.addEventListener('submit', () => kept.write(`${key} sent`, true));
  show();
}

// A page of another address after a form was sent: what it held is written down and need not be kept.
function forgetWhatIsSent() {
  const open = new Set(
    [...document.querySelectorAll('[data-tally-kept]')].map((group) => group.dataset.tallyKept),
  );
  for (const name of Object.keys(sessionStorage)) {
    if (!name.startsWith(ours) || !name.endsWith(' sent')) continue;
    const key = name.slice(ours.length, -' sent'.length);
    kept.forget(`${key} sent`);
    if (!open.has(key)) kept.forget(key);
  }
}

function photo(board) {
  const form = board.closest('form');
  const field = form.querySelector('input[name="taps"]');
  const number = form.querySelector('input[name="counted"]');
  const marks = board.querySelector('.photo-marks');
  const undo = form.querySelector('[data-untap]');
  const key = board.dataset.photoBoard;
  const full = 10_000;
  let taps = kept.read(key) ?? JSON.parse(field.value || '[]');
  if (!Array.isArray(taps)) taps = [];
  let typed = number.value !== '' && taps.length === 0;

  const show = () => {
    marks.replaceChildren(
      ...taps.map(([x, y], index) => {
        const mark = document.createElementNS('http://www.w3.org/2000/svg', 'g');
        const circle = document.createElementNS('http://www.w3.org/2000/svg', 'circle');
        const scale = Math.max(Number(board.dataset.width), Number(board.dataset.height));
        circle.setAttribute('cx', String((x / full) * Number(board.dataset.width)));
        circle.setAttribute('cy', String((y / full) * Number(board.dataset.height)));
        circle.setAttribute('r', String(scale / 60));
        circle.dataset.index = String(index);
        mark.append(circle);
        return mark;
      }),
    );
    field.value = JSON.stringify(taps);
    if (!typed) number.value = String(taps.length);
    undo.disabled = taps.length === 0;
    kept.write(key, taps);
  };
  board.addEventListener('click', (event) => {
    const box = board.getBoundingClientRect();
    const at = (from, length) => Math.round((from / length) * full);
    const x = at(event.clientX - box.left, box.width);
    const y = at(event.clientY - box.top, box.height);
    if (x < 0 || y < 0 || x > full || y > full) return;
    typed = false;
    taps.push([x, y]);
    buzz();
    show();
  });
  undo.hidden = false;
  undo.addEventListener('click', () => {
    taps.pop();
    typed = false;
    show();
  });
  number.addEventListener('input', () => {
    typed = number.value !== '' && Number(number.value) !== taps.length;
  });
  form.addEventListener('submit', () => kept.forget(key));
  show();
}

document.addEventListener('DOMContentLoaded', () => {
  try {
    forgetWhatIsSent();
  } catch {
    // Without a store there is nothing to forget.
  }
  for (const group of document.querySelectorAll('[data-tally-kept]')) tallies(group);
  for (const board of document.querySelectorAll('[data-photo-board]')) photo(board);
});
