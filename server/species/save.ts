import type { SubstrateLayer } from '../../shared/species/columns.ts';
import { layersInWords, typedLayers } from '../../shared/species/form-layers.ts';
import type { SpeciesRecord } from '../../shared/species/form-values.ts';
import { surplusSettings } from '../../shared/species/profile.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { workOutAnew } from '../counts/queries-outdated.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import {
  fingerprintOf,
  isOvertaken,
  isWrong,
  type Outcome,
  overtaken,
  saved,
  tooLate,
} from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { withErrors } from '../plumbing/forms.ts';
import { type Editing, formPage, keptNow, withChangedRows } from './ask.ts';
import {
  columnsOf,
  culturesOfSpecies,
  insertSpecies,
  readCare,
  readLayers,
  readSpecies,
  recordOf,
  type Species,
  updateSpecies,
} from './queries.ts';
import { keepEnglish } from './queries-care.ts';
import { speciesIn } from './read.ts';
import { readSpeciesForm, storedFaults } from './read-form.ts';

export const subjectOf = (id: number) => `species ${id}`;

const pressed = (call: StaffCall) => (typeof call.body.rows === 'string' ? call.body.rows : null);

/** One value a column, so that the record of changes names only what differs. */
function forTheRecord(record: SpeciesRecord, layers: SubstrateLayer[]): Record<string, unknown> {
  const care = Object.entries(record.care).map(([heading, text]) => [`care ${heading}`, text]);
  return { ...columnsOf(record), ...Object.fromEntries(care), layers: JSON.stringify(layers) };
}

/** The form once more, with what was typed and what is wrong with it. */
function again(call: StaffCall, form: FormState, errors: Record<string, string>, editing: Editing): Answer {
  return wrongForm(formPage(call, withErrors(form, errors), typedLayers(form.values), editing));
}

export function addSpecies(call: StaffCall): Answer {
  const change = pressed(call);
  if (change !== null) return withChangedRows(call, change, { species: null });
  const made = readSpeciesForm(call, null);
  if (!made.ok) return again(call, made.form, {}, { species: null });
  const at = call.clock.now();
  const outcome = call.once((tx): { id: number; errors: Record<string, string> } => {
    const errors = storedFaults(tx, call, made, null);
    if (isWrong({ errors })) return { id: 0, errors };
    const inserted = insertSpecies(tx, made.record, made.layers);
    keepEnglish(tx, inserted, { personId: call.who.id, at });
    const after = forTheRecord(made.record, made.layers);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(inserted), after });
    return { id: inserted, errors };
  });
  if (isWrong(outcome)) return again(call, made.form, outcome.errors, { species: null });
  return redirect(`/species/${outcome.id}`, `${made.record.scientificName} is written down.`);
}

/** Whether what the estimates are worked out from has changed. */
function beliefsDiffer(before: Species, after: SpeciesRecord): boolean {
  const beliefs = (figures: SpeciesRecord['figures']) =>
    fingerprintOf([
      surplusSettings(figures),
      figures.growthPerWeekMedian,
      figures.growthSdLog,
      figures.capacityPerLitreMedian,
      figures.capacitySdLog,
      figures.processSd,
    ]);
  return beliefs(before) !== beliefs(after.figures);
}

function overtakenPage(call: StaffCall, species: Species): Answer {
  const late = tooLate(call, keptNow(call, call.db, species), { subject: subjectOf(species.id) });
  const rows = typedLayers(late.values);
  const form = { ...late, values: { ...late.values, layers: layersInWords(rows) } };
  return page(formPage(call, form, rows, { species }), 409);
}

export function saveSpecies(call: StaffCall): Answer {
  const species = speciesIn(call);
  const change = pressed(call);
  if (change !== null) return withChangedRows(call, change, { species });
  const made = readSpeciesForm(call, species);
  if (!made.ok) return again(call, made.form, {}, { species });
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const stored = readSpecies(tx, species.id);
    if (!stored) throw notFound('species');
    if (isOvertaken(call, keptNow(call, tx, stored))) return overtaken;
    const errors = storedFaults(tx, call, made, stored);
    if (isWrong({ errors })) return { ...saved, errors };
    const before = forTheRecord(recordOf(stored, readCare(tx, stored.id)), readLayers(tx, stored.id));
    updateSpecies(tx, stored.id, made.record, made.layers);
    keepEnglish(tx, stored.id, { personId: call.who.id, at });
    const changes = changesBetween<Record<string, unknown>>(before, forTheRecord(made.record, made.layers));
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    if (beliefsDiffer(stored, made.record)) workOutAnew(tx, culturesOfSpecies(tx, stored.id), call.today, at);
    return saved;
  });
  if (outcome.overtaken) return overtakenPage(call, speciesIn(call));
  if (isWrong(outcome)) return again(call, made.form, outcome.errors, { species });
  return redirect(`/species/${species.id}`, `${made.record.scientificName} is saved.`);
}
