import { h } from 'preact';
import {
  type BulkUnit,
  bagField,
  bulkLitres,
  bulkUnit,
  inHandField,
  shownBulk,
  spareField,
  usualBulkUnit,
} from '../../shared/substrate/form.ts';
import { materialKey, type OnShelf } from '../../shared/substrate/shopping.ts';
import { startingRecipe } from '../../shared/substrate/starting-recipe.ts';
import { MaterialsPage } from '../../views/substrate/page-materials.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import { materialNames, readMaterials, readSpare, saveMaterial, saveSpare } from './queries.ts';

/** Names of the fields of a material, by its place in the list. */
const fieldsOf = (at: number) => ({ inHand: `inHand${at}`, bag: `bag${at}`, name: `name${at}` });
const mostMaterials = 200;

const namesNow = (call: StaffCall) =>
  materialNames(
    call.db,
    startingRecipe(115).flatMap(({ parts }) => parts.map(({ material }) => material)),
  ).slice(0, mostMaterials);

function materialsPage(call: StaffCall, form: FormState, names: readonly string[]) {
  return h(MaterialsPage, {
    furniture: call.furniture,
    materials: names.map((name, at) => ({ name, fields: fieldsOf(at) })),
    unit: bulkUnit.parse(form.values.unit),
    mayEdit: call.who.role === 'owner',
    form,
  });
}

export function askMaterials(call: StaffCall): Answer {
  const { unit: asked } = call.query;
  const unit = asked === undefined ? usualBulkUnit(call.business.units) : bulkUnit.parse(asked);
  const names = namesNow(call);
  const known = new Map(readMaterials(call.db).map((one) => [materialKey(one.name), one]));
  const values: Record<string, string> = { unit, spare: String(Math.round(readSpare(call.db) * 1000) / 10) };
  for (const [at, name] of names.entries()) {
    const one = known.get(materialKey(name));
    const fields = fieldsOf(at);
    if (one?.inHandLitres != null) values[fields.inHand] = shownBulk(one.inHandLitres, unit);
    if (one?.bagLitres != null) values[fields.bag] = shownBulk(one.bagLitres, unit);
  }
  return page(materialsPage(call, { values, errors: {} }, names));
}

type Reading = { unit: BulkUnit; values: FormState['values']; errors: Record<string, string> };

/** Litres typed in a field: null where it is empty, and the stored value where it still shows that. */
function litresIn(
  { unit, values, errors }: Reading,
  name: string,
  schema: typeof bagField,
  before: number | null,
): number | null {
  const text = values[name];
  if (typeof text !== 'string' || text.trim() === '') return null;
  if (before !== null && text.trim() === shownBulk(before, unit)) return before;
  const read = schema.safeParse(text);
  if (read.success) return bulkLitres(read.data, unit);
  errors[name] = read.error.issues[0]?.message ?? 'Write a number.';
  return null;
}

export function saveMaterials(call: StaffCall): Answer {
  const form = typed(call.body);
  const { values } = form;
  const isOwner = call.who.role === 'owner';
  const reading: Reading = { unit: bulkUnit.parse(values.unit), values, errors: {} };
  const known = new Map(readMaterials(call.db).map((one) => [materialKey(one.name), one]));
  const names: string[] = [];
  for (let at = 0; at < mostMaterials; at += 1) {
    const name = values[fieldsOf(at).name];
    if (typeof name !== 'string' || name.trim() === '' || name.length > 80) break;
    names.push(name.trim());
  }
  const rows = names.map((name, at): OnShelf => {
    const before = known.get(materialKey(name));
    const fields = fieldsOf(at);
    const inHandLitres = litresIn(reading, fields.inHand, inHandField, before?.inHandLitres ?? null);
    const bagBefore = before?.bagLitres ?? null;
    const bagLitres = isOwner ? litresIn(reading, fields.bag, bagField, bagBefore) : bagBefore;
    return { name, inHandLitres, bagLitres };
  });
  const spare = spareField.safeParse(values.spare);
  if (isOwner && !spare.success) reading.errors.spare = spare.error.issues[0]?.message ?? 'Write a number.';
  if (Object.keys(reading.errors).length > 0)
    return wrongForm(materialsPage(call, withErrors(form, reading.errors), names));
  call.once((tx) => {
    for (const row of rows) saveMaterial(tx, row);
    if (isOwner && spare.success) saveSpare(tx, spare.data / 100);
  });
  return redirect('/substrate', 'What is on the shelf is saved.');
}
