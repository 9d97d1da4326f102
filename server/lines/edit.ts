import { h } from 'preact';
import { lineFieldWords, lineForm } from '../../shared/lines/form.ts';
import { LineFormPage, type LineFormPageProps } from '../../views/lines/page-form.tsx';
import { addressWith, numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, lastSaved } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { namesOfSpecies } from '../species/queries.ts';
import { insertLine, type Line, lineNamed, readLine, updateLine } from './queries.ts';

type Read = NonNullable<ReturnType<typeof readLine>>;

const subjectOf = (id: number) => `line ${id}`;
const listOf = (speciesId: number) => addressWith('/lines', { species: speciesId });
const columnsOf = ({ speciesId, name, locality, note: words }: Line) => ({
  speciesId,
  name,
  locality,
  note: words,
});
const shown = (line: Line) => ({ ...columnsOf(line), speciesId: String(line.speciesId) });

function lineIn(call: StaffCall): Read {
  const line = readLine(call.db, numberIn(call, 'id', 'line'));
  if (!line) throw notFound('line');
  return line;
}

function formPage(
  call: StaffCall,
  form: LineFormPageProps['form'],
  extra: Pick<LineFormPageProps, 'line' | 'conflict'> = { line: null },
) {
  return h(LineFormPage, { furniture: call.furniture, form, species: namesOfSpecies(call.db), ...extra });
}

export function askNewLine(call: StaffCall): Answer {
  return page(formPage(call, { values: { speciesId: call.query.species ?? '' }, errors: {} }));
}

function read(call: StaffCall, before: Read | null) {
  // Cultures of one species cannot stand in a line of another.
  const fixed = before && before.cultures > 0 ? { speciesId: String(before.speciesId) } : {};
  const made = readForm(lineForm, { ...call.body, ...fixed });
  if (!made.ok) return made;
  const { speciesId, name } = made.data;
  const errors: Record<string, string> = {};
  if (!namesOfSpecies(call.db).some((s) => s.id === speciesId))
    errors.speciesId = 'Choose a species of the list.';
  const namesake = lineNamed(call.db, speciesId, name);
  if (namesake && namesake.id !== before?.id) errors.name = 'This species has a line with this name already.';
  return Object.keys(errors).length > 0 ? { ok: false as const, form: withErrors(made.form, errors) } : made;
}

export function addLine(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const at = call.clock.now();
  call.once((tx) => {
    const id = insertLine(tx, made.data);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after: made.data });
  });
  return redirect(listOf(made.data.speciesId), `Line ${made.data.name} is written down.`);
}

export function askEditLine(call: StaffCall): Answer {
  const line = lineIn(call);
  const values = { ...shown(line), version: fingerprintOf(columnsOf(line)) };
  return page(formPage(call, { values, errors: {} }, { line }));
}

export function saveLine(call: StaffCall): Answer {
  const line = lineIn(call);
  const made = read(call, line);
  if (!made.ok) return wrongForm(formPage(call, made.form, { line }));
  const at = call.clock.now();
  const saved = call.once((tx) => {
    const stored = readLine(tx, line.id);
    if (!stored) throw notFound('line');
    if (fingerprintOf(columnsOf(stored)) !== call.body.version) return false;
    updateLine(tx, stored.id, made.data);
    const changes = changesBetween<Record<string, unknown>>(stored, made.data);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    return true;
  });
  if (saved) return redirect(listOf(made.data.speciesId), `Line ${made.data.name} is saved.`);
  const stored = readLine(call.db, line.id) ?? line;
  const { speciesId: _species, ...words } = lineFieldWords;
  const conflict = {
    ...lastSaved(call.db, subjectOf(line.id), call.business),
    differences: differencesBetween(shown(stored), made.form.values, words),
  };
  const values = { ...made.form.values, version: fingerprintOf(columnsOf(stored)) };
  return page(formPage(call, { values, errors: {} }, { line: stored, conflict }), 409);
}
