import { h } from 'preact';
import { type RuleValues, ruleForm, ruleFormValues, ruleFromForm } from '../../shared/movement/form.ts';
import { RuleFormPage } from '../../views/movement/page-rule-form.tsx';
import { readForm } from '../plumbing/forms.ts';
import { type KeptPages, settle } from '../plumbing/kept-pages.ts';
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

export const keptRules: KeptPages<MovementRow, RuleValues> = {
  what: 'rule',
  subject: subjectOfRule,
  read: readRule,
  named: ruleNamed,
  insert: insertRule,
  update: (tx, { id }, values) => updateRule(tx, id, values),
  setRetired: setRuleRetired,
  address: '/movement',
  list: '/movement',
  shown: ({ business, today }, rule): Record<string, string> =>
    rule
      ? ruleFormValues(rule)
      : { fromCountry: business.country, border: 'any', about: 'all', effect: 'warn', checkedOn: today },
  made(call, before) {
    const form = readForm(ruleForm, call.body);
    if (!form.ok) return form;
    const catalogue = speciesInCatalogue(call.db);
    const animals = { genera: generaOf(catalogue, before), speciesIds: catalogue.map(({ id }) => id) };
    return settle(form.form, ruleFromForm(form.data, animals, call.today));
  },
  form({ furniture, db }, form, rule) {
    const animals = animalChoices(speciesInCatalogue(db), rule);
    return h(RuleFormPage, { furniture, form, rule, animals });
  },
  saidRetired: ({ name }) => `${name} is given up and touches no order any more.`,
  saidBroughtBack: ({ name }) => `${name} is in force again.`,
};
