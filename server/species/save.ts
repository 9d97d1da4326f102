import { fieldUnitsOf, shownInField } from '../../shared/settings/typed-units.ts';
import type { SubstrateLayer } from '../../shared/species/columns.ts';
import { speciesFieldWords, speciesForm } from '../../shared/species/form.ts';
import { layerFields, readLayers as readTypedLayers, typedLayers } from '../../shared/species/form-layers.ts';
import {
  type SpeciesRecord,
  speciesFormFaults,
  speciesFormValues,
  speciesFromForm,
} from '../../shared/species/form-values.ts';
import { surplusSettings } from '../../shared/species/profile.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { readEnclosure } from '../enclosures/queries.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, lastSaved } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { formPage, markOf, withChangedRows } from './ask.ts';
import {
  columnsOf,
  culturesOfSpecies,
  insertSpecies,
  readCare,
  readLayers,
  readSpecies,
  recordOf,
  type Species,
  speciesNamed,
  updateSpecies,
} from './queries.ts';
import { workOutAnew } from './queries-outdated.ts';
import { speciesIn } from './read.ts';

export const subjectOf = (id: number) => `species ${id}`;

type Read =
  | { ok: true; record: SpeciesRecord; layers: SubstrateLayer[]; form: FormState }
  | { ok: false; form: FormState };

/** What the stored stock has to say against the form. */
function storedFaults(
  call: StaffCall,
  record: SpeciesRecord,
  layers: SubstrateLayer[],
  before: Species | null,
) {
  const errors: Record<string, string> = {};
  const namesake = speciesNamed(call.db, record.scientificName);
  if (namesake && namesake.id !== before?.id)
    errors.scientificName = namesake.retiredAt
      ? 'This species is retired: bring it back instead.'
      : 'This species is written down already.';
  if (record.homeEnclosureId === null) return errors;
  const home = readEnclosure(call.db, record.homeEnclosureId);
  if (!home || (home.retiredAt !== null && home.id !== before?.homeEnclosureId)) {
    errors.homeEnclosureId = 'Choose an enclosure of the list.';
    return errors;
  }
  const deepMm = layers.reduce((sum, layer) => sum + layer.depthMm, 0);
  if (deepMm > home.heightMm + 1e-6) {
    const { length } = fieldUnitsOf(call.business.units);
    const inUnits = (mm: number) => `${shownInField(mm, length)} ${length}`;
    errors[layerFields.depth(1)] =
      `The layers are ${inUnits(deepMm)} together, but the ${home.name} is only ${inUnits(home.heightMm)} high.`;
  }
  return errors;
}

function read(call: StaffCall, before: Species | null): Read {
  const { business, db } = call;
  const made = readForm(speciesForm(business.currency), call.body);
  const typedRows = typedLayers(made.form.values);
  const stored = before ? readLayers(db, before.id) : [];
  const { layers, errors } = readTypedLayers(typedRows, fieldUnitsOf(business.units).length, stored);
  if (!made.ok) return { ok: false, form: withErrors(made.form, errors) };
  const record = speciesFromForm(made.data, business, before);
  const faults = {
    ...speciesFormFaults(made.data),
    ...storedFaults(call, record, layers, before),
    ...errors,
  };
  if (Object.keys(faults).length > 0) return { ok: false, form: withErrors(made.form, faults) };
  return { ok: true, record, layers, form: made.form };
}

const pressed = (call: StaffCall) => (typeof call.body.rows === 'string' ? call.body.rows : null);

/** One value a column, so that the record of changes names only what differs. */
function forTheRecord(record: SpeciesRecord, layers: SubstrateLayer[]): Record<string, unknown> {
  const care = Object.entries(record.care).map(([heading, text]) => [`care ${heading}`, text]);
  return { ...columnsOf(record), ...Object.fromEntries(care), layers: JSON.stringify(layers) };
}

export function addSpecies(call: StaffCall): Answer {
  const change = pressed(call);
  if (change !== null) return withChangedRows(call, change, { species: null });
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form, typedLayers(made.form.values), { species: null }));
  const at = call.clock.now();
  const id = call.once((tx) => {
    const inserted = insertSpecies(tx, made.record, made.layers);
    const after = forTheRecord(made.record, made.layers);
    note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(inserted), after });
    return inserted;
  });
  return redirect(`/species/${id}`, `${made.record.scientificName} is written down.`);
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

function conflictPage(call: StaffCall, species: Species, form: FormState): Answer {
  const stored = speciesFormValues(recordOf(species, readCare(call.db, species.id)), call.business);
  const conflict = {
    ...lastSaved(call.db, subjectOf(species.id), call.business),
    differences: differencesBetween(stored, form.values, speciesFieldWords),
  };
  const values = { ...form.values, version: markOf(call.db, species) };
  const shown = formPage(call, { values, errors: {} }, typedLayers(form.values), { species, conflict });
  return page(shown, 409);
}

export function saveSpecies(call: StaffCall): Answer {
  const species = speciesIn(call);
  const change = pressed(call);
  if (change !== null) return withChangedRows(call, change, { species });
  const made = read(call, species);
  if (!made.ok) return wrongForm(formPage(call, made.form, typedLayers(made.form.values), { species }));
  const at = call.clock.now();
  const saved = call.once((tx) => {
    const stored = readSpecies(tx, species.id);
    if (!stored) throw notFound('species');
    if (markOf(tx, stored) !== call.body.version) return false;
    const before = forTheRecord(recordOf(stored, readCare(tx, stored.id)), readLayers(tx, stored.id));
    updateSpecies(tx, stored.id, made.record, made.layers);
    const changes = changesBetween<Record<string, unknown>>(before, forTheRecord(made.record, made.layers));
    note(tx, { at, personId: call.who.id, action: 'changed', subject: subjectOf(stored.id), ...changes });
    if (beliefsDiffer(stored, made.record)) workOutAnew(tx, culturesOfSpecies(tx, stored.id), call.today, at);
    return true;
  });
  if (!saved) return conflictPage(call, readSpecies(call.db, species.id) ?? species, made.form);
  return redirect(`/species/${species.id}`, `${made.record.scientificName} is saved.`);
}
