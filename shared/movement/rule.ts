import type { Day } from '../days.ts';
import type { AnimalGroup } from '../species/columns.ts';

/** What a rule does: forbids, asks for a permit, or warns. */
export const ruleEffects = ['block', 'permit', 'warn'] as const;
export type RuleEffect = (typeof ruleEffects)[number];

/** Which journeys between its two ends a rule is about. */
export const ruleBorders = ['any', 'region', 'country'] as const;
export type RuleBorder = (typeof ruleBorders)[number];

/** A place as a rule knows it: ISO 3166-1 country and ISO 3166-2 region; null stands for all of them. */
export type RulePlace = { country: string | null; region: string | null };

export type RuleAbout =
  | { kind: 'all' }
  | { kind: 'group'; animalGroup: AnimalGroup }
  | { kind: 'genus'; genus: string }
  | { kind: 'species'; speciesId: number };

export type MovementRule = {
  id: number;
  name: string;
  from: RulePlace;
  to: RulePlace;
  border: RuleBorder;
  about: RuleAbout;
  effect: RuleEffect;
  /** The rule in the owner's own words. */
  words: string;
  source: string;
  /** Null until somebody has read the rule where it is published. */
  checkedOn: Day | null;
  permitNumber: string;
  permitExpiresOn: Day | null;
};

/** An end of a journey as far as it is known: null where nobody knows. */
export type KnownPlace = { country: string | null; region: string | null };

export type MovedSpecies = {
  id: number;
  scientificName: string;
  animalGroup: AnimalGroup;
};
