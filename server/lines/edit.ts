import { h } from 'preact';
import { type LineForm, lineForm } from '../../shared/lines/form.ts';
import { LineFormPage, type LineFormPageProps } from '../../views/lines/page-form.tsx';
import { addressWith, numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import {
  filledWith,
  isOvertaken,
  isWrong,
  type Outcome,
  overtaken,
  saved,
  tooLate,
} from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { namesOfSpecies } from '../species/queries.ts';
import { insertLine, type Line, lineNamed, listLines, readLine, updateLine } from './queries.ts';
import { keepApart, neverMixedWith } from './queries-apart.ts';

type Read = NonNullable<ReturnType<typeof readLine>>;

const subjectOf = (id: number) => `line ${id}`;
const listOf = (speciesId: number) => addressWith('/lines', { species: speciesId });
/** What a form of a line holds, as it is stored. */
const columnsOf = (db: Db, { id, speciesId, name, locality, note: words, keptPure }: Line) => ({
  speciesId,
  name,
  locality,
  note: words,
  keptPure,
  neverWith: neverMixedWith(db, id).map((line) => line.id),
});
/** The same as the form's fields take it. */
function keptOf(db: Db, line: Line) {
  const { neverWith, speciesId, ...rest } = columnsOf(db, line);
  return { ...rest, speciesId: String(speciesId), neverWith: neverWith.map(String) };
}

function lineIn(call: StaffCall): Read {
  const line = readLine(call.db, numberIn(call, 'id', 'line'));
  if (!line) throw notFound('line');
  return line;
}

function formPage(call: StaffCall, form: FormState, line: LineFormPageProps['line'] = null) {
  const speciesId = line?.speciesId ?? Number(form.values.speciesId || Number.NaN);
  const others = Number.isInteger(speciesId) ? listLines(call.db, speciesId) : [];
  return h(LineFormPage, {
    furniture: call.furniture,
    form,
    species: namesOfSpecies(call.db),
    others: others.filter(({ id }) => id !== line?.id).map(({ id, name }) => ({ id, name })),
    line,
  });
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
function storedFaults(
  tx: Db,
  { speciesId, name, neverWith }: LineForm,
  ownId: number | null,
): Record<string, string> {
  if (!namesOfSpecies(tx).some((species) => species.id === speciesId))
    return { speciesId: 'Choose a species of the list.' };
  const namesake = lineNamed(tx, speciesId, name);
  if (namesake && namesake.id !== ownId) return { name: 'This species has a line with this name already.' };
  const others = new Set(listLines(tx, speciesId).map(({ id }) => id));
  const strange = neverWith.some((id) => id === ownId || !others.has(id));
  return strange ? { neverWith: 'Choose other lines of the same species.' } : {};
}

export function addLine(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const errors = storedFaults(tx, made.data, null);
    if (isWrong({ errors })) return { ...saved, errors };
    const id = insertLine(tx, made.data);
    keepApart(tx, id, made.data.neverWith);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after: made.data });
    return saved;
  });
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect(listOf(made.data.speciesId), `Line ${made.data.name} is written down.`);
}

export function askEditLine(call: StaffCall): Answer {
  const line = lineIn(call);
  return page(formPage(call, filledWith(keptOf(call.db, line)), line));
}

export function saveLine(call: StaffCall): Answer {
  const line = lineIn(call);
  const made = read(call, line);
  if (!made.ok) return wrongForm(formPage(call, made.form, line));
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readLine(tx, line.id);
    if (!stored) throw notFound('line');
    if (isOvertaken(call, keptOf(tx, stored))) return overtaken;
    // Marks go with the species: lines of another one are never mixed with it anyway.
    const data = made.data.speciesId === stored.speciesId ? made.data : { ...made.data, neverWith: [] };
    const errors = storedFaults(tx, data, stored.id);
    if (isWrong({ errors })) return { ...saved, errors };
    const before = columnsOf(tx, stored);
    updateLine(tx, stored.id, data);
    keepApart(tx, stored.id, data.neverWith);
    const changes = changesBetween<Record<string, unknown>>(
      { ...before, neverWith: before.neverWith.join(' ') },
      { ...data, neverWith: data.neverWith.join(' ') },
    );
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    return saved;
  });
  if (outcome.overtaken) {
    const stored = readLine(call.db, line.id) ?? line;
    const form = tooLate(call, keptOf(call.db, stored), { subject: subjectOf(line.id) });
    return page(formPage(call, form, stored), 409);
  }
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors), line));
  return redirect(listOf(made.data.speciesId), `Line ${made.data.name} is saved.`);
}
