import { h } from 'preact';
import { addDays } from '../../shared/days.ts';
import { permitWarningDays } from '../../shared/movement/judge.ts';
import { regionName, regionsOf } from '../../shared/movement/regions.ts';
import { ruleEffects } from '../../shared/movement/rule.ts';
import { startingRules } from '../../shared/movement/starting-rules.ts';
import { countryName } from '../../shared/settings/countries.ts';
import { formatCount } from '../../views/layout/format.ts';
import { OriginPage } from '../../views/movement/page-origin.tsx';
import { type RuleFilter, type RuleRow, RulesPage } from '../../views/movement/page-rules.tsx';
import { aboutWords } from '../../views/movement/say.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { filledWith, isOvertaken, type Outcome, overtaken, saved, tooLate } from '../plumbing/edits.ts';
import { typed } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { speciesInCatalogue } from './queries-animals.ts';
import {
  insertRule,
  listRules,
  type MovementRow,
  originRegion,
  ruleNamed,
  ruleOf,
  saveOriginRegion,
} from './queries-rules.ts';
import { subjectOfRule } from './rule.ts';

function needsOf(row: MovementRow, today: string): RuleRow['needs'] {
  if (row.retiredAt !== null) return null;
  if (row.checkedOn === null) return 'check';
  if (row.effect !== 'permit') return null;
  if (row.permitNumber === '') return 'permit missing';
  if (row.permitExpiresOn === null) return null;
  if (row.permitExpiresOn < today) return 'permit ended';
  return row.permitExpiresOn <= addDays(today, permitWarningDays) ? 'permit ends soon' : null;
}

function filterOf({ query }: StaffCall): RuleFilter {
  return {
    words: (query.words ?? '').slice(0, 100).trim(),
    effect: ruleEffects.find((one) => one === query.effect) ?? '',
    needs: query.which === 'needs',
    retired: query.which === 'retired',
  };
}

function isShown({ rule, animals, isRetired, needs }: RuleRow, filter: RuleFilter): boolean {
  const text = `${rule.name} ${rule.words} ${rule.source} ${animals} ${rule.permitNumber}`.toLowerCase();
  return (
    isRetired === filter.retired &&
    (filter.effect === '' || rule.effect === filter.effect) &&
    (!filter.needs || needs !== null) &&
    filter.words
      .toLowerCase()
      .split(/\s+/)
      .every((word) => text.includes(word))
  );
}

function originWords(call: StaffCall): string {
  const { country } = call.business;
  const region = originRegion(call.db);
  const own = region?.startsWith(`${country}-`) ? region : null;
  return own === null ? countryName(country) : `${regionName(own)}, ${countryName(country)}`;
}

export function showRules(call: StaffCall): Answer {
  const names = new Map(speciesInCatalogue(call.db).map((one) => [one.id, one.scientificName]));
  const all = listRules(call.db);
  const rows = all.map((row): RuleRow => {
    const rule = ruleOf(row);
    return {
      rule,
      animals: aboutWords(rule.about, (id) => names.get(id) ?? 'a species'),
      isLatin: rule.about.kind === 'species',
      isRetired: row.retiredAt !== null,
      needs: needsOf(row, call.today),
    };
  });
  const filter = filterOf(call);
  const inForce = all.filter(({ retiredAt }) => retiredAt === null);
  const asksForOrigin = inForce.some((row) => row.border === 'region' || row.fromRegion !== null);
  return page(
    h(RulesPage, {
      furniture: call.furniture,
      rows: rows.filter((row) => isShown(row, filter)),
      filter,
      total: all.length,
      unchecked: inForce.filter(({ checkedOn }) => checkedOn === null).length,
      origin: originWords(call),
      needsOrigin: asksForOrigin && originRegion(call.db) === null,
      startingCount: startingRules.length,
    }),
  );
}

/** Adds the public rules to begin with that are not there yet, by their names; all of them unchecked. */
export function addStartingRules(call: StaffCall): Answer {
  const at = call.clock.now();
  const added = call.once((tx) => {
    const missing = startingRules.filter(({ name }) => !ruleNamed(tx, name));
    for (const rule of missing) {
      const subject = subjectOfRule(insertRule(tx, rule, at));
      note(tx, { at, personId: call.who.id, action: 'added', subject, after: { ...rule } });
    }
    return missing.length;
  });
  return redirect(
    '/movement',
    `${formatCount(added, 'public rule')} written down, to be verified before use. Until then they only warn.`,
  );
}

function originPage(call: StaffCall, form: FormState) {
  const { country } = call.business;
  return h(OriginPage, {
    furniture: call.furniture,
    form,
    country: countryName(country),
    regions: regionsOf(country).map(({ code, name }) => ({ value: code, label: name })),
  });
}

const originNow = (db: Db) => ({ region: originRegion(db) ?? '' });
const aboutOrigin = { subject: 'where parcels start' };

export function askOrigin(call: StaffCall): Answer {
  return page(originPage(call, filledWith(originNow(call.db))));
}

export function saveOrigin(call: StaffCall): Answer {
  const said = typeof call.body.region === 'string' ? call.body.region : '';
  if (said !== '' && !regionsOf(call.business.country).some(({ code }) => code === said)) {
    const errors = { region: 'Choose a region from the list.' };
    return wrongForm(originPage(call, { ...typed(call.body), errors }));
  }
  const region = said === '' ? null : said;
  const outcome = call.once((tx): Outcome => {
    if (isOvertaken(call, originNow(tx))) return overtaken;
    const before = { region: originRegion(tx) };
    saveOriginRegion(tx, region);
    const change = { action: 'changed', ...aboutOrigin, before, after: { region } };
    note(tx, { at: call.clock.now(), personId: call.who.id, ...change });
    return saved;
  });
  if (outcome.overtaken) return page(originPage(call, tooLate(call, originNow(call.db), aboutOrigin)), 409);
  return redirect('/movement', `Parcels start in ${originWords(call)}.`);
}
