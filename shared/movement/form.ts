import { z } from 'zod';
import { type Day, isDay } from '../days.ts';
import { isCountryCode } from '../settings/countries.ts';
import { animalGroups } from '../species/columns.ts';
import { neededLine, optionalLine, tidyLines } from '../text.ts';
import { recogniseRegion, regionName, regionsOf } from './regions.ts';
import { type MovementRule, ruleBorders, ruleEffects } from './rule.ts';

const notADay = 'Write a day of the calendar, such as 2026-11-30.';
const plainDay = z.string({ error: notADay }).trim().refine(isDay, { error: notADay });
const country = z
  .string({ error: 'Choose a country from the list.' })
  .refine(isCountryCode, { error: 'Choose a country from the list.' })
  .optional();

const aboutPattern = /^(all|group:[a-z]+|genus:.{1,80}|species:[1-9]\d{0,14})$/u;

/** A movement rule as the owner writes one down. */
export const ruleForm = z.object({
  name: neededLine(80, 'Give it a short name.'),
  fromCountry: country,
  fromRegion: optionalLine(80),
  toCountry: country,
  toRegion: optionalLine(80),
  border: z.enum(ruleBorders, { error: 'Choose which journeys it is about.' }),
  about: z.string({ error: 'Choose the animals.' }).regex(aboutPattern, 'Choose the animals from the list.'),
  effect: z.enum(ruleEffects, { error: 'Choose what it does.' }),
  words: z
    .string({ error: 'Write the rule in your own words.' })
    .transform(tidyLines)
    .pipe(
      z
        .string()
        .min(1, 'Write the rule in your own words.')
        .max(1000, 'This is too long: 1000 characters at most.'),
    ),
  source: neededLine(300, 'Say where the rule is published.'),
  checkedOn: plainDay.optional(),
  permitNumber: optionalLine(80),
  permitExpiresOn: plainDay.optional(),
});
export type RuleForm = z.output<typeof ruleForm>;

export const ruleFieldWords: Record<string, string> = {
  name: 'Name',
  fromCountry: 'From the country',
  fromRegion: 'From the region',
  toCountry: 'To the country',
  toRegion: 'To the region',
  border: 'Which journeys',
  about: 'Which animals',
  effect: 'What it does',
  words: 'The rule in your own words',
  source: 'Where it is published',
  checkedOn: 'Checked on',
  permitNumber: 'Number of the permit',
  permitExpiresOn: 'The permit ends on',
};

/** How the table holds a rule. */
export type RuleValues = {
  name: string;
  fromCountry: string | null;
  fromRegion: string | null;
  toCountry: string | null;
  toRegion: string | null;
  border: MovementRule['border'];
  about: MovementRule['about']['kind'];
  animalGroup: (typeof animalGroups)[number] | null;
  genus: string | null;
  speciesId: number | null;
  effect: MovementRule['effect'];
  words: string;
  source: string;
  checkedOn: Day | null;
  permitNumber: string;
  permitExpiresOn: Day | null;
};

/** The value of the field of animals for a rule: 'genus:Porcellio'. */
function aboutField({ about, animalGroup, genus, speciesId }: RuleValues): string {
  return about === 'all' ? 'all' : `${about}:${animalGroup ?? genus ?? speciesId ?? ''}`;
}

/** What the fields show for a stored rule. */
export function ruleFormValues(stored: RuleValues): Record<string, string> {
  const shown = (region: string | null) => (region === null ? '' : regionName(region));
  return {
    name: stored.name,
    fromCountry: stored.fromCountry ?? '',
    fromRegion: shown(stored.fromRegion),
    toCountry: stored.toCountry ?? '',
    toRegion: shown(stored.toRegion),
    border: stored.border,
    about: aboutField(stored),
    effect: stored.effect,
    words: stored.words,
    source: stored.source,
    checkedOn: stored.checkedOn ?? '',
    permitNumber: stored.permitNumber,
    permitExpiresOn: stored.permitExpiresOn ?? '',
  };
}

/** Animals that a rule can be about: what stands in the catalogue. */
export type KnownAnimals = { genera: readonly string[]; speciesIds: readonly number[] };

export type ReadRule = { ok: true; values: RuleValues } | { ok: false; errors: Record<string, string> };

function aboutFrom(text: string, { genera, speciesIds }: KnownAnimals) {
  const none = { animalGroup: null, genus: null, speciesId: null };
  const value = text.slice(text.indexOf(':') + 1);
  const group = animalGroups.find((one) => text === `group:${one}`);
  if (text === 'all') return { ...none, about: 'all' as const };
  if (group) return { ...none, about: 'group' as const, animalGroup: group };
  if (text.startsWith('genus:') && genera.includes(value))
    return { ...none, about: 'genus' as const, genus: value };
  if (text.startsWith('species:') && speciesIds.includes(Number(value)))
    return { ...none, about: 'species' as const, speciesId: Number(value) };
  return null;
}

/**
 * Why what was written is no region of the country, or its code; null where nothing was written.
 *
 * @example regionFrom('US', 'Texas') // { code: 'US-TX' }
 */
function regionFrom(country: string | null, text: string): { code: string | null; error?: string } {
  if (text === '') return { code: null };
  if (country === null) return { code: null, error: 'Choose the country first, or leave the region empty.' };
  const code = recogniseRegion(country, text);
  if (code !== null) return { code };
  const known = regionsOf(country);
  const such = known.slice(0, 4).map(({ name }) => name);
  const error =
    such.length === 0
      ? 'No regions of this country are known here. Leave it empty.'
      : `Not known as a region there. Write its name or its code, such as ${such.join(', ')}.`;
  return { code: null, error };
}

/** The rule that a form describes. */
export function ruleFromForm(form: RuleForm, animals: KnownAnimals, today: Day): ReadRule {
  const errors: Record<string, string> = {};
  const { fromCountry = null, toCountry = null } = form;
  const from = regionFrom(fromCountry, form.fromRegion);
  const to = regionFrom(toCountry, form.toRegion);
  if (from.error) errors.fromRegion = from.error;
  if (to.error) errors.toRegion = to.error;
  const about = aboutFrom(form.about, animals);
  if (!about) errors.about = 'Choose the animals from the list.';
  if (form.checkedOn !== undefined && form.checkedOn > today) errors.checkedOn = 'This day is still to come.';
  if (form.effect !== 'permit' && (form.permitNumber !== '' || form.permitExpiresOn !== undefined))
    errors.effect = 'A permit is written down below: choose “only with a permit”, or empty its fields.';
  if (form.permitNumber === '' && form.permitExpiresOn !== undefined)
    errors.permitNumber = 'Write the number of the permit that ends then.';
  if (!about || Object.keys(errors).length > 0) return { ok: false, errors };
  const { name, border, effect, words, source, permitNumber } = form;
  return {
    ok: true,
    values: {
      ...about,
      name,
      fromCountry,
      fromRegion: from.code,
      toCountry,
      toRegion: to.code,
      border,
      effect,
      words,
      source,
      checkedOn: form.checkedOn ?? null,
      permitNumber,
      permitExpiresOn: form.permitExpiresOn ?? null,
    },
  };
}
