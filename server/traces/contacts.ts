import { contactForm } from '../../shared/traces/form.ts';
import { dayFault } from '../../views/cultures/say.ts';
import { contactPath, traceHref } from '../../views/traces/say.ts';
import { type LoadedCulture, loadCulture } from '../cultures/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { readAsked } from './ask.ts';
import { tracePage } from './page.ts';
import { knownContact, standingContact, withdrawContact, writeContact } from './queries-contacts.ts';
import { otherCulture } from './queries-typed.ts';

/** Where somebody came from: the trace as it was asked for. */
function traceOfForm(call: StaffCall, loaded: LoadedCulture) {
  const read = readAsked(call, loaded.culture, call.body);
  const { what, since, seen, back, sort } = read.asked;
  return { read, href: traceHref(loaded.culture.code, { what, since, seen, back, sort }) };
}

/** Writes down a contact that was forgotten when it happened. */
export function addContact(call: StaffCall): Answer {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const { culture } = loaded;
  const { read: asked, href } = traceOfForm(call, loaded);
  const read = readForm(contactForm, call.body);
  const again = (form: FormState) => wrongForm(tracePage(call, loaded, asked, { contact: form }));
  if (!read.ok) return again(read.form);
  const { way, other: code, kind, onDay, note } = read.data;
  const { today, business } = call;
  const wrongDay = dayFault(culture, onDay, today, business.locale);
  if (wrongDay) return again(withErrors(read.form, { onDay: wrongDay }));
  const other = otherCulture(call.db, code, { culture, onDay, today, locale: business.locale });
  if (typeof other === 'string') return again(withErrors(read.form, { other }));
  const [fromId, toId] = way === 'to' ? [culture.id, other.id] : [other.id, culture.id];
  const by = { madeBy: call.who.id, madeAt: call.clock.now() };
  const id = call.once((tx) => writeContact(tx, { onDay, fromId, toId, kind, note }, by));
  return redirect(href, {
    text: `The contact with ${other.code} is written down.`,
    tone: 'plain',
    undo: { action: `${contactPath(culture.code)}/${id}/withdraw`, label: 'Undo' },
  });
}

export function takeContactOut(call: StaffCall): Answer {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const { href } = traceOfForm(call, loaded);
  // A second tap on the button is answered like the first.
  if (call.outcome()) return redirect(href);
  const id = numberIn(call, 'id', 'contact');
  const { culture } = loaded;
  const known = knownContact(call.db, id);
  if (!known || (known.fromId !== culture.id && known.toId !== culture.id)) throw notFound('contact');
  const by = { madeBy: call.who.id, madeAt: call.clock.now() };
  call.once((tx) => {
    const standing = standingContact(tx, id);
    if (!standing) throw conflict('Somebody has taken this contact out meanwhile.');
    withdrawContact(tx, standing, by);
    return true;
  });
  return redirect(href, 'The contact is taken out.');
}
