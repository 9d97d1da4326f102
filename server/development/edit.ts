import { h } from 'preact';
import { type Stage, type StagesForm, stages, stagesForm } from '../../shared/development/page-form.ts';
import { fieldUnitsOf, shownInField, storedFromField } from '../../shared/settings/typed-units.ts';
import { StagesPage } from '../../views/development/page-stages.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readSpecies } from '../species/queries.ts';
import { type StageRow, saveStages, stagesOf } from './queries.ts';

function speciesIn(call: StaffCall) {
  const species = readSpecies(call.db, numberIn(call, 'id', 'species'));
  if (!species) throw notFound('species');
  return species;
}

const tempUnit = (call: StaffCall) => fieldUnitsOf(call.business.units).temp;

function formPage(call: StaffCall, form: FormState) {
  const { id, scientificName } = speciesIn(call);
  return h(StagesPage, {
    furniture: call.furniture,
    species: { id, scientificName },
    unit: tempUnit(call),
    form,
  });
}

function keptNow(call: StaffCall, db: Db) {
  const values: Record<string, string> = {};
  const temp = (tempC: number) => shownInField(tempC, tempUnit(call));
  for (const row of stagesOf(db, speciesIn(call).id)) {
    const { stage } = row;
    values[`${stage}Cool`] = temp(row.coolC);
    values[`${stage}CoolDays`] = String(row.coolDays);
    values[`${stage}Warm`] = temp(row.warmC);
    values[`${stage}WarmDays`] = String(row.warmDays);
    values[`${stage}Source`] = row.source;
  }
  return values;
}

export const askStages = (call: StaffCall): Answer =>
  page(formPage(call, filledWith(keptNow(call, call.db))));

/** One stage of the form as a row; null where it was left empty. */
function rowOf(
  call: StaffCall,
  data: StagesForm,
  stage: Stage,
  before: Pick<StageRow, 'coolC' | 'warmC'> | undefined,
  errors: Record<string, string>,
) {
  const cool = data[`${stage}Cool`];
  const coolDays = data[`${stage}CoolDays`];
  const warm = data[`${stage}Warm`];
  const warmDays = data[`${stage}WarmDays`];
  const given = { Cool: cool, CoolDays: coolDays, Warm: warm, WarmDays: warmDays };
  if (Object.values(given).every((value) => value === undefined)) return null;
  for (const [name, value] of Object.entries(given))
    if (value === undefined) errors[`${stage}${name}`] = 'Fill in both times, or neither.';
  if (cool === undefined || coolDays === undefined || warm === undefined || warmDays === undefined)
    return null;
  const coolC = storedFromField(cool, tempUnit(call), before?.coolC);
  const warmC = storedFromField(warm, tempUnit(call), before?.warmC);
  if (coolC < 0 || warmC > 45) errors[`${stage}Cool`] = 'Nothing develops at such temperatures.';
  if (warmC <= coolC) errors[`${stage}Warm`] = 'Must be warmer than the cooler one.';
  if (warmDays >= coolDays) errors[`${stage}WarmDays`] = 'Must be shorter than at the cooler one.';
  return { stage, coolC, coolDays, warmC, warmDays, source: data[`${stage}Source`] || 'not said' };
}

export function saveStageTimes(call: StaffCall): Answer {
  const species = speciesIn(call);
  const read = readForm(stagesForm, call.body);
  if (!read.ok) return wrongForm(formPage(call, read.form));
  const errors: Record<string, string> = {};
  const kept = new Map(stagesOf(call.db, species.id).map((row) => [row.stage, row]));
  const rows = stages.flatMap((stage): StageRow[] => {
    const row = rowOf(call, read.data, stage, kept.get(stage), errors);
    return row ? [{ speciesId: species.id, ...row }] : [];
  });
  if (Object.keys(errors).length > 0) return wrongForm(formPage(call, withErrors(read.form, errors)));
  const at = call.clock.now();
  const about = { action: 'changed development', subject: `species ${species.id}` };
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, keptNow(call, tx))) return overtaken;
    saveStages(tx, species.id, rows);
    const after = { stages: rows.map(({ stage }) => stage).join(', ') };
    note(tx, { at, personId: call.who.id, ...about, after });
    return saved;
  });
  if (outcome.overtaken) return page(formPage(call, tooLate(call, keptNow(call, call.db), about)), 409);
  return redirect(`/species/${species.id}`, 'The development times are saved.');
}
