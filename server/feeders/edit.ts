import { h } from 'preact';
import { dietField, feederSpeciesForm, usualFeeder } from '../../shared/feeders/page-form.ts';
import { FeederFormPage } from '../../views/feeders/page-form.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { dietsOn, dropFeeder, feederFigures, saveFeeder, speciesChoices } from './queries.ts';

const dietName = (speciesId: number) => `diet.${speciesId}`;

function speciesIn(call: StaffCall) {
  const choices = speciesChoices(call.db);
  const id = numberIn(call, 'id', 'species');
  const species = choices.find((one) => one.id === id);
  if (!species) throw notFound('species');
  return { species, others: choices.filter((one) => one.id !== id) };
}

function keptNow(db: Db, species: { id: number; animalGroup: string }): FormState['values'] {
  const { animalGroup } = species;
  const usual = usualFeeder[animalGroup === 'fly' || animalGroup === 'springtail' ? animalGroup : 'other'];
  const figures = feederFigures(db, species.id) ?? usual;
  const values: Record<string, string> = {};
  for (const name of Object.keys(usual) as (keyof typeof usual)[]) values[name] = String(figures[name]);
  for (const [id, perWeek] of dietsOn(db, species.id)) values[dietName(id)] = String(perWeek);
  return values;
}

function formPage(call: StaffCall, form: FormState) {
  const { species, others } = speciesIn(call);
  const isKept = feederFigures(call.db, species.id) !== undefined;
  return h(FeederFormPage, {
    furniture: call.furniture,
    species,
    isKept,
    form,
    eaters: others.map(({ id, ...names }) => ({ ...names, field: dietName(id) })),
  });
}

export function askFeeder(call: StaffCall): Answer {
  return page(formPage(call, filledWith(keptNow(call.db, speciesIn(call).species))));
}

/** How many of it each species eats, from the fields that were filled in. */
function readDiets(call: StaffCall, others: readonly { id: number }[], errors: Record<string, string>) {
  const diets = new Map<number, number>();
  for (const { id } of others) {
    const text = call.body[dietName(id)];
    if (typeof text !== 'string' || text.trim() === '') continue;
    const read = dietField.safeParse(text);
    if (read.success) diets.set(id, read.data);
    else errors[dietName(id)] = read.error.issues[0]?.message ?? 'Write a number.';
  }
  return diets;
}

export function saveFeederSpecies(call: StaffCall): Answer {
  const { species, others } = speciesIn(call);
  const read = readForm(feederSpeciesForm, call.body);
  const errors: Record<string, string> = {};
  const diets = readDiets(call, others, errors);
  if (read.ok && read.data.seedAdults >= read.data.yield)
    errors.seedAdults = 'Must be less than it gives: otherwise it feeds nobody.';
  if (!read.ok || Object.keys(errors).length > 0)
    return wrongForm(formPage(call, withErrors(read.form, errors)));
  const at = call.clock.now();
  const about = { action: 'planned feeder', subject: `species ${species.id}` };
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, keptNow(tx, species))) return overtaken;
    saveFeeder(tx, { speciesId: species.id, ...read.data }, diets);
    const after = { ...read.data, eaters: diets.size };
    note(tx, { at, personId: call.who.id, ...about, after });
    return saved;
  });
  if (outcome.overtaken) return page(formPage(call, tooLate(call, keptNow(call.db, species), about)), 409);
  return redirect('/feeders', `${species.scientificName} is planned as a feeder.`);
}

export function stopFeeder(call: StaffCall): Answer {
  const { species } = speciesIn(call);
  const at = call.clock.now();
  call.once((tx) => {
    dropFeeder(tx, species.id);
    note(tx, { at, personId: call.who.id, action: 'stopped feeder', subject: `species ${species.id}` });
  });
  return redirect('/feeders', `${species.scientificName} is no longer planned as a feeder.`);
}
