import { h } from 'preact';
import {
  groupPackingForm,
  groupPackingFromForm,
  habitsForm,
  habitsFormValues,
  habitsFromForm,
  packingFormValues,
  speciesPackingForm,
  speciesPackingFromForm,
} from '../../shared/documents/packing-form.ts';
import { usualNotes } from '../../shared/documents/packing-notes.ts';
import { type AnimalGroup, animalGroups } from '../../shared/species/columns.ts';
import { CupsPage, cupChoices, type PackedRow } from '../../views/documents/page-cups.tsx';
import { PackedPage } from '../../views/documents/page-packed.tsx';
import { groupsWords } from '../../views/species/say.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { listSpecies, readSpecies } from '../species/queries.ts';
import {
  type GroupPacking,
  groupPackingOf,
  listCups,
  listGroupPacking,
  listSpeciesPacking,
  readCup,
  readPackingHabits,
  saveGroupPacking,
  savePackingHabits,
  saveSpeciesPacking,
  speciesPackingOf,
} from './queries-packing.ts';

const groupPath = (group: AnimalGroup) => `/cups/groups/${group}`;
const speciesPath = (id: number) => `/cups/species/${id}`;

function groupIn(call: StaffCall): AnimalGroup {
  const group = animalGroups.find((one) => one === call.params.group);
  if (!group) throw notFound('group of animals');
  return group;
}

const cupName = (db: Db, id: number | null) => (id === null ? null : (readCup(db, id)?.name ?? null));

/** The words of a group's row, its own or the usual ones. */
function packedRows(db: Db): { groups: PackedRow[]; species: PackedRow[] } {
  const usual = cupName(db, readPackingHabits(db).cupId) ?? 'not said';
  const byGroup = new Map(listGroupPacking(db).map((one) => [one.animalGroup, one]));
  const bySpecies = new Map(listSpeciesPacking(db).map((one) => [one.speciesId, one]));
  const groups = animalGroups.map((group): PackedRow => {
    const own: GroupPacking | undefined = byGroup.get(group);
    return {
      key: group,
      href: groupPath(group),
      name: groupsWords[group],
      isLatin: false,
      group,
      cup: cupName(db, own?.cupId ?? null) ?? usual,
      animalsPerCup: own?.animalsPerCup ?? null,
      ventilation: own?.ventilation ?? '',
      padding: own?.padding ?? '',
    };
  });
  const rowOf = new Map(groups.map((row) => [row.group, row]));
  const species = listSpecies(db, { words: '', retired: false })
    .filter(({ species: one }) => one.sellable)
    .map(({ species: one }): PackedRow => {
      const own = bySpecies.get(one.id);
      const above = rowOf.get(one.animalGroup);
      return {
        key: String(one.id),
        href: speciesPath(one.id),
        name: one.scientificName,
        isLatin: true,
        group: one.animalGroup,
        cup: cupName(db, own?.cupId ?? null) ?? above?.cup ?? usual,
        animalsPerCup: own?.animalsPerCup ?? above?.animalsPerCup ?? null,
        ventilation: own?.ventilation || (above?.ventilation ?? ''),
        padding: own?.padding || (above?.padding ?? ''),
      };
    });
  return { groups, species };
}

const cupsPage = (call: StaffCall, habits: FormState) =>
  h(CupsPage, {
    furniture: call.furniture,
    units: call.business.units,
    mayEdit: call.who.role === 'owner',
    cups: listCups(call.db),
    ...packedRows(call.db),
    habits,
  });

const habitsNow = (call: StaffCall, db: Db) => habitsFormValues(readPackingHabits(db), call.business.units);

export const showCups = (call: StaffCall): Answer =>
  page(cupsPage(call, filledWith(habitsNow(call, call.db))));

/** What is wrong with a chosen cup: it must be there. */
const cupFaults = (db: Db, cupId: number | null): Record<string, string> =>
  cupId !== null && !readCup(db, cupId) ? { cup: 'There is no such cup: choose one of the list.' } : {};

export function saveHabits(call: StaffCall): Answer {
  const read = readForm(habitsForm, call.body);
  if (!read.ok) return wrongForm(cupsPage(call, read.form));
  const before = readPackingHabits(call.db);
  const values = habitsFromForm(read.data, call.business.units, before);
  const errors = cupFaults(call.db, values.cupId);
  if (Object.keys(errors).length > 0) return wrongForm(cupsPage(call, withErrors(read.form, errors)));
  const about = { action: 'changed', subject: 'packing' };
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, habitsNow(call, tx))) return overtaken;
    savePackingHabits(tx, values);
    const changes = changesBetween<Record<string, unknown>>({ ...before }, { ...values });
    note(tx, { at: call.clock.now(), personId: call.who.id, ...about, ...changes });
    return saved;
  });
  if (outcome.overtaken) return page(cupsPage(call, tooLate(call, habitsNow(call, call.db), about)), 409);
  return redirect('/cups', 'Saved.');
}

function groupPage(call: StaffCall, group: AnimalGroup, form: FormState) {
  const usualCup = cupName(call.db, readPackingHabits(call.db).cupId);
  return h(PackedPage, {
    furniture: call.furniture,
    form,
    title: `How ${groupsWords[group].toLowerCase()} are packed`,
    action: groupPath(group),
    cups: cupChoices(listCups(call.db)),
    otherwise: {
      cup: `Otherwise the usual cup: ${usualCup ?? 'not said'}.`,
      perCup: 'Otherwise one group in each cup, however many animals it has.',
      ventilation: `Otherwise (common practice, no source): ${usualNotes[group].ventilation}`,
      padding: `Otherwise (common practice, no source): ${usualNotes[group].padding}`,
    },
    asksMass: false,
  });
}

const groupNow = (db: Db, group: AnimalGroup) => packingFormValues(groupPackingOf(db, group));

export function askGroupPacking(call: StaffCall): Answer {
  const group = groupIn(call);
  return page(groupPage(call, group, filledWith(groupNow(call.db, group))));
}

export function changeGroupPacking(call: StaffCall): Answer {
  const group = groupIn(call);
  const read = readForm(groupPackingForm, call.body);
  if (!read.ok) return wrongForm(groupPage(call, group, read.form));
  const values = groupPackingFromForm(read.data);
  const errors = cupFaults(call.db, values.cupId);
  if (Object.keys(errors).length > 0) return wrongForm(groupPage(call, group, withErrors(read.form, errors)));
  const about = { action: 'changed', subject: `packing of ${group}` };
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, groupNow(tx, group))) return overtaken;
    saveGroupPacking(tx, group, values);
    note(tx, { at: call.clock.now(), personId: call.who.id, ...about, after: { ...values } });
    return saved;
  });
  if (outcome.overtaken)
    return page(groupPage(call, group, tooLate(call, groupNow(call.db, group), about)), 409);
  return redirect('/cups', `${groupsWords[group]}: saved.`);
}

function speciesIn(call: StaffCall) {
  const species = readSpecies(call.db, numberIn(call, 'id', 'species'));
  if (!species) throw notFound('species');
  return species;
}

function speciesPage(call: StaffCall, form: FormState) {
  const species = speciesIn(call);
  const group = packedRows(call.db).groups.find((row) => row.group === species.animalGroup);
  const noteOf = (what: 'ventilation' | 'padding') =>
    group && group[what] !== ''
      ? `Otherwise as for ${group.name.toLowerCase()}: ${group[what]}`
      : `Otherwise (common practice, no source): ${usualNotes[species.animalGroup][what]}`;
  const perCup = group?.animalsPerCup ?? null;
  return h(PackedPage, {
    furniture: call.furniture,
    form,
    title: `How ${species.scientificName} is packed`,
    action: speciesPath(species.id),
    cups: cupChoices(listCups(call.db)),
    otherwise: {
      cup: `Otherwise as for its group: ${group?.cup ?? 'not said'}.`,
      perCup:
        perCup === null
          ? 'Otherwise one group in each cup, however many animals it has.'
          : `Otherwise at most ${perCup}, as for its group.`,
      ventilation: noteOf('ventilation'),
      padding: noteOf('padding'),
    },
    asksMass: true,
  });
}

const speciesNow = (db: Db, id: number) => packingFormValues(speciesPackingOf(db, id));

export const askSpeciesPacking = (call: StaffCall): Answer =>
  page(speciesPage(call, filledWith(speciesNow(call.db, speciesIn(call).id))));

export function changeSpeciesPacking(call: StaffCall): Answer {
  const { id, scientificName } = speciesIn(call);
  const read = readForm(speciesPackingForm, call.body);
  if (!read.ok) return wrongForm(speciesPage(call, read.form));
  const values = speciesPackingFromForm(read.data);
  const errors = cupFaults(call.db, values.cupId);
  if (Object.keys(errors).length > 0) return wrongForm(speciesPage(call, withErrors(read.form, errors)));
  const about = { action: 'changed', subject: `packing of species ${id}` };
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, speciesNow(tx, id))) return overtaken;
    saveSpeciesPacking(tx, id, values);
    note(tx, { at: call.clock.now(), personId: call.who.id, ...about, after: { ...values } });
    return saved;
  });
  if (outcome.overtaken) return page(speciesPage(call, tooLate(call, speciesNow(call.db, id), about)), 409);
  return redirect('/cups', `${scientificName}: saved.`);
}
