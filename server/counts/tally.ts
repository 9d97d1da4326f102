import { h } from 'preact';
import { mostCatches } from '../../shared/counts/page-form.ts';
import {
  catchesSoFar,
  catchFields,
  catchForm,
  type TallyMethod,
  tallyForm,
  tallyMethod,
  tallyWords,
} from '../../shared/counts/tally-form.ts';
import { CatchesPage } from '../../views/counts/page-catches.tsx';
import { TallyPage } from '../../views/counts/page-tally.tsx';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import type { LoadedCulture } from '../cultures/queries.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';
import { saveCount } from './write.ts';

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'counted');

const aboutCulture = (call: StaffCall, { culture, species }: LoadedCulture) => ({
  furniture: call.furniture,
  code: culture.code,
  scientificName: species.scientificName,
  cautions: species.cautions,
});

function tallyPage(call: StaffCall, loaded: LoadedCulture, method: TallyMethod, form: FormState) {
  return h(TallyPage, { ...aboutCulture(call, loaded), method, form, today: call.today });
}

export function askTally(call: StaffCall): Answer {
  const form = { values: { onDay: call.today }, errors: {} };
  return page(tallyPage(call, load(call), tallyMethod.parse(call.query.method), form));
}

/** A tally is the count of its method; how many were adults stands in the note. */
export async function saveTally(call: StaffCall): Promise<Answer> {
  if (call.outcome()) return redirect(cultureHref(call.params.code ?? ''));
  const loaded = load(call);
  const method = tallyMethod.parse(call.body.method);
  const read = readForm(tallyForm, call.body);
  if (!read.ok) return wrongForm(tallyPage(call, loaded, method, read.form));
  const { adults, juveniles } = read.data;
  const typed = typeof call.body.note === 'string' ? call.body.note.trim() : '';
  const note = [tallyWords(read.data), typed].filter(Boolean).join(' ');
  const body = { ...call.body, method, counted: String((adults ?? 0) + (juveniles ?? 0)), note };
  return saveCount({ ...call, body });
}

function catchesPage(call: StaffCall, loaded: LoadedCulture, done: number[], form: FormState) {
  return h(CatchesPage, { ...aboutCulture(call, loaded), done, form });
}

export function askCatches(call: StaffCall): Answer {
  // The last catch is still to be typed, so one fewer than all can be in the address.
  const done = catchesSoFar(call.query.done).slice(0, mostCatches - 1);
  return page(catchesPage(call, load(call), done, { values: {}, errors: {} }));
}

export async function saveCatch(call: StaffCall): Promise<Answer> {
  const at = cultureHref(call.params.code ?? '');
  if (call.outcome()) return redirect(at);
  const loaded = load(call);
  const done = catchesSoFar(call.body.done).slice(0, mostCatches - 1);
  const read = readForm(catchForm, call.body);
  if (!read.ok) return wrongForm(catchesPage(call, loaded, done, read.form));
  const catches = [...done, read.data.caught];
  if (call.body.go !== 'done' && catches.length < mostCatches)
    return redirect(addressWith(`${at}/catches`, { done: catches.join(',') }));
  const { formKey, onDay = call.today } = call.body;
  return saveCount({ ...call, body: { formKey, onDay, method: 'removal', ...catchFields(catches) } });
}
