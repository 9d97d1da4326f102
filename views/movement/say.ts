import { regionName } from '../../shared/movement/regions.ts';
import type { MovementRule, RuleBorder, RuleEffect, RulePlace } from '../../shared/movement/rule.ts';
import { countryName } from '../../shared/settings/countries.ts';
import type { AnimalGroup } from '../../shared/species/columns.ts';
import { groupsWords } from '../species/say.ts';

export const effectWords: Record<RuleEffect, string> = {
  block: 'Not allowed',
  permit: 'Only with a permit',
  warn: 'Allowed, with care',
};

export const borderWords: Record<RuleBorder, string> = {
  any: 'all journeys',
  region: 'only across the border of a state or region',
  country: 'only across the border of a country',
};

/** All animals of a group: 'all isopods'. */
export const allOfGroup = (group: AnimalGroup): string =>
  group === 'other' ? 'all of the group “other”' : `all ${groupsWords[group].toLowerCase()}`;

/** A rule's end of the way: 'California, United States', 'anywhere'. */
export function placeWords({ country, region }: RulePlace): string {
  if (country === null) return 'anywhere';
  return region === null ? countryName(country) : `${regionName(region)}, ${countryName(country)}`;
}

/** Which animals, in words; a species' name comes from the catalogue. */
export function aboutWords(about: MovementRule['about'], nameOf: (speciesId: number) => string): string {
  switch (about.kind) {
    case 'all':
      return 'all animals';
    case 'group':
      return allOfGroup(about.animalGroup);
    case 'genus':
      return `all of the genus ${about.genus}`;
    case 'species':
      return nameOf(about.speciesId);
  }
}
