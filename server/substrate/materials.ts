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
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { fingerprintOf, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
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

/** What the form shows, as it is stored: the same whatever it is measured in. Helpers are shown no bags. */
function markOf({ who }: StaffCall, db: Db): string {
  const rows = readMaterials(db).map(({ name, inHandLitres, bagLitres }) =>
    who.role === 'owner' ? [name, inHandLitres, bagLitres] : [name, inHandLitres],
  );
  return fingerprintOf([rows.sort(), who.role === 'owner' ? readSpare(db) : null]);
}

function shownNow(call: StaffCall, names: readonly string[], unit: BulkUnit) {
  const known = new Map(readMaterials(call.db).map((one) => [materialKey(one.name), one]));
  const values: Record<string, string> = { unit, spare: String(Math.round(readSpare(call.db) * 1000) / 10) };
  for (const [at, name] of names.entries()) {
    const one = known.get(materialKey(name));
    const fields = fieldsOf(at);
    if (one?.inHandLitres != null) values[fields.inHand] = shownBulk(one.inHandLitres, unit);
    if (one?.bagLitres != null) values[fields.bag] = shownBulk(one.bagLitres, unit);
  }
  return values;
}

export function askMaterials(call: StaffCall): Answer {
  const { unit: asked } = call.query;
  const unit = asked === undefined ? usualBulkUnit(call.business.units) : bulkUnit.parse(asked);
  const names = namesNow(call);
  const values = { ...shownNow(call, names, unit), version: markOf(call, call.db) };
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

/** Which materials differ now, for the record of changes. */
function changesOf(known: ReadonlyMap<string, OnShelf>, rows: readonly OnShelf[]) {
  const said = ({ inHandLitres, bagLitres }: OnShelf) => ({ inHandLitres, bagLitres });
  const before = rows.map(({ name }) => [
    name,
    said(known.get(materialKey(name)) ?? { name, inHandLitres: null, bagLitres: null }),
  ]);
  const after = rows.map((row) => [row.name, said(row)]);
  const differs = (at: number) => JSON.stringify(before[at]) !== JSON.stringify(after[at]);
  const only = (pairs: typeof after) => Object.fromEntries(pairs.filter((_, at) => differs(at)));
  return { before: only(before), after: only(after) };
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
  const about = { action: 'changed', subject: 'what is on the shelf' };
  const outcome = call.once((tx): Outcome => {
    if (markOf(call, tx) !== call.body.version) return overtaken;
    for (const row of rows) saveMaterial(tx, row);
    if (isOwner && spare.success) saveSpare(tx, spare.data / 100);
    note(tx, { at: call.clock.now(), personId: call.who.id, ...about, ...changesOf(known, rows) });
    return saved;
  });
  if (outcome.overtaken) {
    const late = tooLate(call, shownNow(call, names, reading.unit), about, markOf(call, call.db));
    return page(materialsPage(call, late, names), 409);
  }
  return redirect('/substrate', 'What is on the shelf is saved.');
}
