import type { KnownPlace, MovedSpecies, MovementRule, RuleAbout, RulePlace } from './rule.ts';

/** Whether a rule is about a journey; `unknown` where what decides it is not known. */
export type Applies = 'yes' | 'no' | 'unknown';

/** All must hold: one that does not decides, else one that nobody knows. */
const all = (answers: readonly Applies[]): Applies =>
  answers.includes('no') ? 'no' : answers.includes('unknown') ? 'unknown' : 'yes';

const same = (wanted: string | null, known: string | null): Applies =>
  wanted === null ? 'yes' : known === null ? 'unknown' : wanted === known ? 'yes' : 'no';

const atPlace = (rule: RulePlace, known: KnownPlace): Applies =>
  all([same(rule.country, known.country), same(rule.region, known.region)]);

const differ = (a: string | null, b: string | null): Applies =>
  a === null || b === null ? 'unknown' : a === b ? 'no' : 'yes';

function crosses({ border }: MovementRule, from: KnownPlace, to: KnownPlace): Applies {
  if (border === 'any') return 'yes';
  const countries = differ(from.country, to.country);
  if (border === 'country' || countries === 'yes') return countries;
  return countries === 'unknown' ? 'unknown' : differ(from.region, to.region);
}

/**
 * Whether a rule is about the way from one place to another. A rule for a region needs the region of the address: where
 * it is missing the answer is `unknown`, never `no`.
 *
 * @example appliesToWay({ from: { country: 'US', region: null }, to: { country: 'US', region: 'US-CA' }, border: 'any', ... },
 *   { country: 'US', region: 'US-TX' }, { country: 'US', region: null }) // 'unknown'
 */
export function appliesToWay(rule: MovementRule, from: KnownPlace, to: KnownPlace): Applies {
  return all([atPlace(rule.from, from), atPlace(rule.to, to), crosses(rule, from, to)]);
}

/**
 * The genus of a scientific name: its first word.
 *
 * @example genusOf('Porcellio scaber') // 'Porcellio'
 */
export const genusOf = (scientificName: string): string => scientificName.trim().split(/\s+/, 1)[0] ?? '';

/**
 * Whether a rule is about a species: by itself, by its genus (however it is capitalised), by its group, or about all.
 *
 * @example isAbout({ kind: 'genus', genus: 'Porcellio' }, { id: 1, scientificName: 'Porcellio scaber', animalGroup: 'isopod' }) // true
 */
export function isAbout(about: RuleAbout, species: MovedSpecies): boolean {
  switch (about.kind) {
    case 'all':
      return true;
    case 'group':
      return species.animalGroup === about.animalGroup;
    case 'genus':
      return genusOf(species.scientificName).toLowerCase() === about.genus.trim().toLowerCase();
    case 'species':
      return species.id === about.speciesId;
  }
}
