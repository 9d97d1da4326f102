import { fieldUnitsOf, shownInField } from '../../shared/settings/typed-units.ts';
import type { SubstrateLayer } from '../../shared/species/columns.ts';
import { speciesForm } from '../../shared/species/form.ts';
import { layerFields, readLayers as readTypedLayers, typedLayers } from '../../shared/species/form-layers.ts';
import { type SpeciesRecord, speciesFormFaults, speciesFromForm } from '../../shared/species/form-values.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { readEnclosure } from '../enclosures/queries.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readLayers, type Species, speciesNamed } from './queries.ts';

export type Described = { record: SpeciesRecord; layers: SubstrateLayer[] };
export type Read = ({ ok: true; form: FormState } & Described) | { ok: false; form: FormState };

/** What the stored stock has to say against the form. */
export function storedFaults(tx: Db, call: StaffCall, { record, layers }: Described, before: Species | null) {
  const errors: Record<string, string> = {};
  const namesake = speciesNamed(tx, record.scientificName);
  if (namesake && namesake.id !== before?.id)
    errors.scientificName = namesake.retiredAt
      ? 'This species is retired: bring it back instead.'
      : 'This species is written down already.';
  if (record.homeEnclosureId === null) return errors;
  const home = readEnclosure(tx, record.homeEnclosureId);
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

export function readSpeciesForm(call: StaffCall, before: Species | null): Read {
  const { business, db } = call;
  const made = readForm(speciesForm(business.currency), call.body);
  const typedRows = typedLayers(made.form.values);
  const stored = before ? readLayers(db, before.id) : [];
  const { layers, errors } = readTypedLayers(typedRows, fieldUnitsOf(business.units).length, stored);
  if (!made.ok) return { ok: false, form: withErrors(made.form, errors) };
  const record = speciesFromForm(made.data, business, before);
  const faults = {
    ...speciesFormFaults(made.data),
    ...errors,
  };
  if (Object.keys(faults).length > 0) return { ok: false, form: withErrors(made.form, faults) };
  return { ok: true, record, layers, form: made.form };
}
