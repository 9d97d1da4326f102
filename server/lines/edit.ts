import { h } from 'preact';
import { type LineForm, lineFieldWords, lineForm } from '../../shared/lines/form.ts';
import { LineFormPage, type LineFormPageProps } from '../../views/lines/page-form.tsx';
import { addressWith, numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import {
  differencesBetween,
  fingerprintOf,
  isWrong,
  lastSaved,
  type Outcome,
  overtaken,
  saved,
} from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
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
  return readForm(lineForm, { ...call.body, ...fixed });
}

/** What the stored stock has to say against a line. */
function storedFaults(tx: Db, { speciesId, name }: LineForm, ownId: number | null): Record<string, string> {
  if (!namesOfSpecies(tx).some((species) => species.id === speciesId))
    return { speciesId: 'Choose a species of the list.' };
  const namesake = lineNamed(tx, speciesId, name);
  return namesake && namesake.id !== ownId ? { name: 'This species has a line with this name already.' } : {};
}

export function addLine(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const errors = storedFaults(tx, made.data, null);
    if (isWrong({ errors })) return { ...saved, errors };
    const id = insertLine(tx, made.data);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after: made.data });
    return saved;
  });
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect(listOf(made.data.speciesId), `Line ${made.data.name} is written down.`);
}

export function askEditLine(call: StaffCall): Answer {
  const line = lineIn(call);
  const values = { ...shown(line), version: fingerprintOf(columnsOf(line)) };
  return page(formPage(call, { values, errors: {} }, { line }));
}

function conflictPage(call: StaffCall, stored: Read, form: FormState): Answer {
  const { speciesId: _species, ...words } = lineFieldWords;
  const conflict = {
    ...lastSaved(call.db, subjectOf(stored.id), call.business),
    differences: differencesBetween(shown(stored), form.values, words),
  };
  const values = { ...form.values, version: fingerprintOf(columnsOf(stored)) };
  return page(formPage(call, { values, errors: {} }, { line: stored, conflict }), 409);
}

export function saveLine(call: StaffCall): Answer {
  const line = lineIn(call);
  const made = read(call, line);
  if (!made.ok) return wrongForm(formPage(call, made.form, { line }));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readLine(tx, line.id);
    if (!stored) throw notFound('line');
    if (fingerprintOf(columnsOf(stored)) !== call.body.version) return overtaken;
    const errors = storedFaults(tx, made.data, stored.id);
    if (isWrong({ errors })) return { ...saved, errors };
    updateLine(tx, stored.id, made.data);
    const changes = changesBetween<Record<string, unknown>>(stored, made.data);
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    return saved;
  });
  if (outcome.overtaken) return conflictPage(call, readLine(call.db, line.id) ?? line, made.form);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { line }));
  return redirect(listOf(made.data.speciesId), `Line ${made.data.name} is saved.`);
}
