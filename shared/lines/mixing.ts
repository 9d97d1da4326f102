import { CalculationError } from '../faults.ts';
import { smallestWhere } from '../numbers/whole-search.ts';
import type { MixingQuestion } from './form.ts';
import { compareText } from './founding-order.ts';
import { EXTINCT_BELOW, type Kinship, kinship } from './kinship.ts';

export interface Partner {
  readonly code: string;
  /** f between the two as they stand. */
  readonly kinship: number;
  /** The most that animals from this partner can make of the heterozygosity kept. */
  readonly heterozygosityAfter: number;
  /** heterozygosityAfter less what is kept now. */
  readonly gain: number;
  /** How many animals of the partner reach heterozygosityAfter; more would not raise it. */
  readonly animals: number;
  /** The fewest animals that reach the gain aimed at; null where this partner cannot. */
  readonly animalsForGain: number | null;
}

export interface MixingAnswer {
  readonly for: string;
  readonly heterozygosityKept: number;
  /** Its last known number of animals. */
  readonly animals: number;
  /** The gain aimed at: the one asked for, or half of what the best partner can give; null without a partner. */
  readonly gainAimedAt: number | null;
  /** The best first. */
  readonly partners: readonly Partner[];
}

/** Differences in heterozygosity below this are rounding. */
const ROUNDING = 1e-12;

/**
 * Which cultures may strengthen one, and with how many animals.
 *
 * With a animals of partner s added to the n of culture c, w = a / (n + a), what is kept becomes
 * h(a) = (1-w)^2 (1 - f_cc) + 2 w (1-w) (1 - f_cs) + w^2 (1 - f_ss), as an addition in `kinship` makes it: at
 * once, before the next generations. It rises at first only where the two are less kin than the culture is
 * inbred, f_cs < f_cc; no other culture is a partner. Then h is largest at
 * w = (f_cc - f_cs) / (f_cc + f_ss - 2 f_cs), or at all of the partner's animals where that comes first.
 *
 * Partners are ranked by the heterozygosity they can lead to, then by the fewest animals for the gain aimed
 * at, then by fewest animals, then by code. Never proposed: the culture itself, cultures that have died out
 * (last known size below half an animal), and every pair of `neverMix`. Pairs are taken as given, not passed
 * on to descendants: whoever keeps a locality or a morph line pure names each of its cultures. How many
 * animals a partner can spare is asked of `surplus`.
 *
 * Units: probabilities, animals. Errors: CalculationError (path for) where the culture itself has died out.
 *
 * @example mixing(mixingInput.parse({ for: 'A', generationDays: 90, femaleShare: 0.5, neRatio: 0.5,
 *   asOf: '2026-01-01', cultures: [{ code: 'A', foundedOn: '2026-01-01', wild: 10 },
 *     { code: 'B', foundedOn: '2026-01-01', wild: 10 }] })).partners
 * // f is 0.1 in each and 0 between: the best is 10 animals, 0.95 kept, gain 0.05; half of that takes 2
 */
export function mixing(question: MixingQuestion): MixingAnswer {
  const found = kinship(question);
  const culture = found.placeOf(question.for);
  if (culture === undefined) throw new CalculationError('is no culture here', 'for');
  const apart = new Set<string>();
  for (const [one, other] of question.neverMix) {
    if (one === question.for) apart.add(other);
    if (other === question.for) apart.add(one);
  }
  return mixingPartners(found, culture, { mayMix: (code) => !apart.has(code), gain: question.gain });
}

/**
 * The same from a kinship at hand. Places as in `codes`; `mayMix` says of a code whether it may be proposed
 * at all (lines kept pure, quarantine).
 */
export function mixingPartners(
  found: Kinship,
  culture: number,
  { mayMix = () => true, gain }: { mayMix?: (code: string) => boolean; gain?: number } = {},
): MixingAnswer {
  if (!alive(found, culture)) throw new CalculationError('has no animals left to be strengthened', 'for');
  const mixtures = found.codes.flatMap((code, partner) => {
    if (partner === culture || !alive(found, partner) || !mayMix(code)) return [];
    return bestMixture(found, culture, partner) ?? [];
  });
  const most = mixtures.reduce((best, mixture) => Math.max(best, mixture.gain), 0);
  const aim = gain ?? most / 2;
  const partners = mixtures.map(({ partner, animals, gain: reached }): Partner => {
    return {
      code: found.codes[partner]!,
      kinship: found.at(culture, partner),
      heterozygosityAfter: keptWith(found, culture, partner, animals),
      gain: reached,
      animals,
      animalsForGain: animalsForGain(found, { culture, partner, most: animals, gain: aim }),
    };
  });
  return {
    for: found.codes[culture]!,
    heterozygosityKept: 1 - found.at(culture, culture),
    animals: found.animals[culture]!,
    gainAimedAt: gain ?? (mixtures.length > 0 ? aim : null),
    partners: partners.sort(byUse),
  };
}

/** The share of newcomers in a culture to which so many animals are added. */
export const shareOfNewcomers = (found: Kinship, culture: number, animals: number): number =>
  animals / (found.animals[culture]! + animals);

/**
 * The heterozygosity a culture keeps when so many animals of another are added to it.
 *
 * @example keptWith(found, 0, 1, 0) // what it keeps now
 */
export function keptWith(found: Kinship, culture: number, partner: number, animals: number): number {
  const w = shareOfNewcomers(found, culture, animals);
  const lost =
    (1 - w) * ((1 - w) * found.at(culture, culture) + 2 * w * found.at(culture, partner)) +
    w * w * found.at(partner, partner);
  return 1 - lost;
}

function alive(found: Kinship, culture: number): boolean {
  return found.animals[culture]! >= EXTINCT_BELOW;
}

/** The whole number of animals that keeps most, or null where none keeps more than the culture does now. */
function bestMixture(
  found: Kinship,
  culture: number,
  partner: number,
): { partner: number; animals: number; gain: number } | null {
  const own = found.at(culture, culture);
  const between = found.at(culture, partner);
  if (own - between <= ROUNDING) return null;
  const most = Math.max(1, Math.floor(found.animals[partner]!));
  // With w* = rise / (rise + fall) the animals are n w* / (1 - w*) = n rise / fall.
  const fall = found.at(partner, partner) - between;
  const ideal = fall > 0 ? (found.animals[culture]! * (own - between)) / fall : most;
  const fewer = Math.min(most, Math.max(1, Math.floor(ideal)));
  const more = Math.min(most, fewer + 1);
  const kept = (animals: number) => keptWith(found, culture, partner, animals);
  const animals = kept(more) > kept(fewer) + ROUNDING ? more : fewer;
  const gain = kept(animals) - (1 - own);
  return gain > ROUNDING ? { partner, animals, gain } : null;
}

/** Up to the best number, every animal more raises what is kept. */
function animalsForGain(
  found: Kinship,
  { culture, partner, most, gain }: { culture: number; partner: number; most: number; gain: number },
): number | null {
  const wanted = 1 - found.at(culture, culture) + gain - ROUNDING;
  const enough = (animals: number) => keptWith(found, culture, partner, animals) >= wanted;
  return enough(most) ? smallestWhere(enough, 1, most) : null;
}

function byUse(a: Partner, b: Partner): number {
  const rank = ({ heterozygosityAfter }: Partner) => Math.round(heterozygosityAfter / ROUNDING);
  const forGain = ({ animalsForGain }: Partner) => animalsForGain ?? Number.MAX_SAFE_INTEGER;
  return rank(b) - rank(a) || forGain(a) - forGain(b) || a.animals - b.animals || compareText(a.code, b.code);
}
