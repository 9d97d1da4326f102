import { addDays, type Day } from '../days.ts';
import { type Applies, appliesToWay, isAbout } from './applies.ts';
import type { KnownPlace, MovedSpecies, MovementRule } from './rule.ts';

/** How many days before its end a permit is spoken of. */
export const permitWarningDays = 30;

export type MovementReason =
  /** The rule forbids it. */
  | 'forbidden'
  /** A permit is asked for and none is written down. */
  | 'no permit'
  /** The permit is no longer valid on the dispatch day. */
  | 'permit expired'
  /** The permit is valid on the dispatch day and ends soon after. */
  | 'permit ends soon'
  /** The permit is valid. */
  | 'permitted'
  | 'caution'
  /** It would forbid or ask for a permit, but nobody has checked it yet. */
  | 'not checked'
  /** It may be about this journey: a region or a country is not known. */
  | 'place unknown';

export type MovementFinding = {
  rule: MovementRule;
  weight: 'block' | 'warn' | 'permit';
  reason: MovementReason;
  /** The scientific names of what it is about, in the order they were given. */
  species: string[];
};

export type Journey = {
  from: KnownPlace;
  to: KnownPlace;
  species: readonly MovedSpecies[];
  /** The day the parcel leaves. */
  onDay: Day;
};

type Judged = Pick<MovementFinding, 'weight' | 'reason'>;

function byPermit({ permitNumber, permitExpiresOn }: MovementRule, onDay: Day): Judged {
  if (permitNumber === '') return { weight: 'block', reason: 'no permit' };
  if (permitExpiresOn === null) return { weight: 'permit', reason: 'permitted' };
  if (permitExpiresOn < onDay) return { weight: 'block', reason: 'permit expired' };
  if (permitExpiresOn <= addDays(onDay, permitWarningDays))
    return { weight: 'warn', reason: 'permit ends soon' };
  return { weight: 'permit', reason: 'permitted' };
}

function judgeRule(rule: MovementRule, applies: Applies, onDay: Day): Judged {
  if (applies === 'unknown') return { weight: 'warn', reason: 'place unknown' };
  if (rule.effect === 'warn') return { weight: 'warn', reason: 'caution' };
  if (rule.checkedOn === null) return { weight: 'warn', reason: 'not checked' };
  return rule.effect === 'block' ? { weight: 'block', reason: 'forbidden' } : byPermit(rule, onDay);
}

const weights = { block: 0, warn: 1, permit: 2 } as const;

/**
 * Which of the owner's rules touch a parcel, and how: the strictest first, then in the order of the rules. All of them are
 * given, because one that forbids is not undone by another that warns. A permit is valid on its last day. What nobody has
 * checked, and what may not be about this journey at all, warns and never forbids.
 *
 * Source: the owner's own table; how the rules weigh is a decision of this program, no law.
 *
 * @example
 * judgeMovement([{ id: 1, effect: 'block', checkedOn: '2026-01-01', about: { kind: 'genus', genus: 'Exemplum' }, ... }],
 *   { from, to, species: [{ id: 7, scientificName: 'Exemplum minor', animalGroup: 'isopod' }], onDay: '2026-11-25' })
 * // [{ rule, weight: 'block', reason: 'forbidden', species: ['Exemplum minor'] }]
 */
export function judgeMovement(
  rules: readonly MovementRule[],
  { from, to, species, onDay }: Journey,
): MovementFinding[] {
  const findings: MovementFinding[] = [];
  for (const rule of rules) {
    const touched = species.filter((one) => isAbout(rule.about, one)).map((one) => one.scientificName);
    const applies = appliesToWay(rule, from, to);
    if (touched.length === 0 || applies === 'no') continue;
    findings.push({ rule, ...judgeRule(rule, applies, onDay), species: [...new Set(touched)] });
  }
  return findings.sort((a, b) => weights[a.weight] - weights[b.weight]);
}

/**
 * The strictest of what was found: whether the parcel may not go, may go with care, or nothing stands against it.
 *
 * @example strictest([]) // 'clear'
 */
export function strictest(findings: readonly MovementFinding[]): 'block' | 'warn' | 'clear' {
  if (findings.some(({ weight }) => weight === 'block')) return 'block';
  return findings.some(({ weight }) => weight === 'warn') ? 'warn' : 'clear';
}
