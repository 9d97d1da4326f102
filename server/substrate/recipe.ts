import { h } from 'preact';
import { sectionOf } from '../../shared/enclosures/section.ts';
import { measuresOf } from '../../shared/enclosures/volume.ts';
import { fieldUnitsOf, shownInField } from '../../shared/settings/typed-units.ts';
import {
  changeRows,
  emptyLayer,
  layerFields,
  layersInWords,
  readLayers as readTypedLayers,
  shownLayers,
  type TypedLayer,
  typedLayers,
} from '../../shared/species/form-layers.ts';
import { RecipePage } from '../../views/substrate/page-recipe.tsx';
import { readEnclosure } from '../enclosures/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readSpecies } from '../species/queries.ts';
import { recipeFor } from './list.ts';
import { ownRecipe, saveRecipe } from './queries.ts';

function pairIn(call: StaffCall) {
  const species = readSpecies(call.db, numberIn(call, 'species', 'species'));
  const enclosure = readEnclosure(call.db, numberIn(call, 'enclosure', 'enclosure'));
  if (!species || !enclosure) throw notFound('recipe');
  return { species, enclosure, key: { speciesId: species.id, enclosureId: enclosure.id } };
}

type Pair = ReturnType<typeof pairIn>;

const subjectOf = ({ species, enclosure }: Pair) =>
  `recipe of species ${species.id} in enclosure ${enclosure.id}`;

function recipePage(call: StaffCall, { species, enclosure, key }: Pair, form: FormState, rows: TypedLayer[]) {
  const { db, business } = call;
  const { from, layers } = recipeFor(db, species.id, enclosure);
  return h(RecipePage, {
    furniture: call.furniture,
    species: { id: species.id, scientificName: species.scientificName },
    enclosure: { id: enclosure.id, name: enclosure.name, measures: measuresOf(enclosure) },
    from,
    section: sectionOf(measuresOf(enclosure), layers),
    hasOwn: ownRecipe(db, key.speciesId, key.enclosureId).length > 0,
    units: business.units,
    form,
    layers: rows.length > 0 ? rows : [emptyLayer],
  });
}

const lengthUnit = (call: StaffCall) => fieldUnitsOf(call.business.units).length;

export function askRecipe(call: StaffCall): Answer {
  const pair = pairIn(call);
  const { layers } = recipeFor(call.db, pair.species.id, pair.enclosure);
  const rows = shownLayers(layers, lengthUnit(call));
  return page(recipePage(call, pair, filledWith({ layers: layersInWords(rows) }), rows));
}

/** The recipe as the form shows it, in words. */
const keptNow = (call: StaffCall, db: Db, { species, enclosure }: Pair) => ({
  layers: layersInWords(shownLayers(recipeFor(db, species.id, enclosure).layers, lengthUnit(call))),
});

export function saveOwnRecipe(call: StaffCall): Answer {
  const pair = pairIn(call);
  const { species, enclosure, key } = pair;
  const form = typed(call.body);
  const rows = typedLayers(form.values);
  // A button for rows was pressed: the form comes back as it was typed. Nothing is saved.
  if (typeof form.values.rows === 'string')
    return page(recipePage(call, pair, form, changeRows(rows, form.values.rows)));
  const before = recipeFor(call.db, species.id, enclosure).layers;
  const { layers, errors } = readTypedLayers(rows, lengthUnit(call), before);
  const deepMm = layers.reduce((sum, { depthMm }) => sum + depthMm, 0);
  const inUnits = (mm: number) => `${shownInField(mm, lengthUnit(call))} ${lengthUnit(call)}`;
  if (layers.length === 0) errors[layerFields.name(1)] ??= 'Write down one layer at least.';
  if (deepMm > enclosure.heightMm + 1e-6)
    errors[layerFields.depth(1)] ??=
      `The layers are ${inUnits(deepMm)} together, but the ${enclosure.name} is only ${inUnits(enclosure.heightMm)} high.`;
  if (Object.keys(errors).length > 0)
    return wrongForm(recipePage(call, pair, withErrors(form, errors), rows));
  const at = call.clock.now();
  const subject = subjectOf(pair);
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, keptNow(call, tx, pair))) return overtaken;
    const was = ownRecipe(tx, key.speciesId, key.enclosureId);
    saveRecipe(tx, key, layers);
    const change = { before: { layers: was }, after: { layers } };
    note(tx, { at, personId: call.who.id, action: 'changed a recipe', subject, ...change });
    return saved;
  });
  if (outcome.overtaken) {
    const late = tooLate(call, keptNow(call, call.db, pair), { subject });
    const both = { ...late, values: { ...late.values, layers: layersInWords(rows) } };
    return page(recipePage(call, pair, both, rows), 409);
  }
  return redirect('/substrate', `The recipe of ${species.scientificName} in the ${enclosure.name} is saved.`);
}

/** Back to the layers of the species' page, or the recipe to begin with. What it was stays in the record of changes. */
export function dropRecipe(call: StaffCall): Answer {
  const pair = pairIn(call);
  const { species, enclosure, key } = pair;
  const at = call.clock.now();
  const subject = subjectOf(pair);
  call.once((tx) => {
    const was = ownRecipe(tx, key.speciesId, key.enclosureId);
    saveRecipe(tx, key, []);
    note(tx, { at, personId: call.who.id, action: 'dropped a recipe', subject, before: { layers: was } });
  });
  return redirect(
    '/substrate',
    `${species.scientificName} in the ${enclosure.name} has no recipe of its own now.`,
  );
}
