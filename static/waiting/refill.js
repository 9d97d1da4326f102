// A form that is opened again for an entry that was refused: what was typed stands in it, and sending it puts the new
// one in the refused one's place.

import { inside } from './at.js';
import { entryOf } from './store.js';

export async function start(id) {
  const entry = await entryOf(id);
  if (!entry) return;
  const path = entry.path.replace(/all-well$/, 'check');
  const form = [...document.querySelectorAll('form[method="post"]')].find(
    (one) => inside(new URL(one.action).pathname) === path,
  );
  if (!form) return;
  for (const box of form.querySelectorAll('input[type="checkbox"], input[type="radio"]'))
    if (box.type === 'checkbox' || entry.fields.some(([name]) => name === box.name)) box.checked = false;
  for (const [name, value] of entry.fields) fill(form, name, value);
  const mends = document.createElement('input');
  mends.type = 'hidden';
  mends.name = 'keptEntry';
  mends.value = String(id);
  form.append(mends);
}

function fill(form, name, value) {
  for (const control of form.elements) {
    if (control.name !== name || control.type === 'hidden') continue;
    if (control.type === 'checkbox' || control.type === 'radio') control.checked ||= control.value === value;
    else control.value = value;
  }
}
