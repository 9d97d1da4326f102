import { h } from 'preact';
import {
  type RuleValues,
  ruleFieldWords,
  ruleForm,
  ruleFormValues,
  ruleFromForm,
} from '../../shared/movement/form.ts';
import { RuleFormPage, type RuleFormPageProps } from '../../views/movement/page-rule-form.tsx';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { differencesBetween, fingerprintOf, isWrong, lastSaved } from '../plumbing/edits.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { addKept, type Kept, keptIn, saveKept, setKeptRetired } from '../plumbing/kept-things.ts';
import { animalChoices, generaOf, speciesInCatalogue } from './queries-animals.ts';
import {
  insertRule,
  type MovementRow,
  readRule,
  ruleNamed,
  setRuleRetired,
  updateRule,
} from './queries-rules.ts';

export const subjectOfRule = (id: number) => `movement rule ${id}`;

const keptRules: Kept<MovementRow, RuleValues> = {
  what: 'rule',
  subject: subjectOfRule,
  read: readRule,
  named: ruleNamed,
  insert: insertRule,
  update: (tx, { id }, values) => updateRule(tx, id, values),
  setRetired: setRuleRetired,
};

const ruleIn = (call: StaffCall): MovementRow => keptIn(call, keptRules);

type Extra = Pick<RuleFormPageProps, 'conflict'> & { rule: MovementRow | null };

function formPage(call: StaffCall, form: FormState, { rule, conflict }: Extra = { rule: null }) {
  const animals = animalChoices(speciesInCatalogue(call.db), rule);
  return h(RuleFormPage, { furniture: call.furniture, form, rule, conflict, animals });
}

export function askNewRule(call: StaffCall): Answer {
  const { country } = call.business;
  const values = { fromCountry: country, border: 'any', about: 'all', effect: 'warn', checkedOn: call.today };
  return page(formPage(call, { values, errors: {} }));
}

export function askEditRule(call: StaffCall): Answer {
  const rule = ruleIn(call);
  const values = { ...ruleFormValues(rule), version: fingerprintOf(rule) };
  return page(formPage(call, { values, errors: {} }, { rule }));
}

function read(call: StaffCall, before: MovementRow | null) {
  const form = readForm(ruleForm, call.body);
  if (!form.ok) return form;
  const catalogue = speciesInCatalogue(call.db);
  const animals = { genera: generaOf(catalogue, before), speciesIds: catalogue.map(({ id }) => id) };
  const made = ruleFromForm(form.data, animals, call.today);
  return made.ok
    ? { ok: true as const, values: made.values, form: form.form }
    : { ok: false as const, form: withErrors(form.form, made.errors) };
}

export function addRule(call: StaffCall): Answer {
  const made = read(call, null);
  if (!made.ok) return wrongForm(formPage(call, made.form));
  const outcome = addKept(call, keptRules, made.values);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors)));
  return redirect('/movement', `${made.values.name} is written down.`);
}

export function saveRule(call: StaffCall): Answer {
  const rule = ruleIn(call);
  const made = read(call, rule);
  if (!made.ok) return wrongForm(formPage(call, made.form, { rule }));
  const outcome = saveKept(call, keptRules, rule.id, made.values);
  if (outcome.overtaken) return conflictPage(call, readRule(call.db, rule.id) ?? rule);
  if (isWrong(outcome)) return wrongForm(formPage(call, withErrors(made.form, outcome.errors), { rule }));
  return redirect('/movement', `${made.values.name} is saved.`);
}

function conflictPage(call: StaffCall, rule: MovementRow): Answer {
  const form = typed(call.body);
  const conflict = {
    ...lastSaved(call.db, subjectOfRule(rule.id), call.business),
    differences: differencesBetween(ruleFormValues(rule), form.values, ruleFieldWords),
  };
  const values = { ...form.values, version: fingerprintOf(rule) };
  return page(formPage(call, { values, errors: {} }, { rule, conflict }), 409);
}

export function retireRule(call: StaffCall): Answer {
  const { id, name } = ruleIn(call);
  setKeptRetired(call, keptRules, id, true);
  return redirect('/movement', {
    text: `${name} is given up and touches no order any more.`,
    tone: 'plain',
    undo: { action: `/movement/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackRule(call: StaffCall): Answer {
  const { id, name } = ruleIn(call);
  setKeptRetired(call, keptRules, id, false);
  return redirect('/movement', `${name} is in force again.`);
}
