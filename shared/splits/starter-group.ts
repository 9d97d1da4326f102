import { z } from 'zod';
import { CalculationError } from '../faults.ts';
import { logBinomial } from '../numbers/densities.ts';
import { smallestWhere } from '../numbers/whole-search.ts';

/** A start is never larger; a demand that wants more is a slip of the pen or out of reach. */
const MOST_STARTERS = 10_000;
const MOST_REQUIRED = 1_000;

/** Either `animals` (how safe is it?) or `assurance` (how many does it take?). */
export const starterGroupInput = z
  .strictObject({
    animals: z.int().min(1).max(MOST_STARTERS).optional(),
    assurance: z.number().gt(0).lt(1).optional(),
    femaleShare: z.number().min(0).max(1),
    atLeast: z.strictObject({
      males: z.int().min(0).max(MOST_REQUIRED),
      females: z.int().min(0).max(MOST_REQUIRED),
    }),
  })
  .refine((start) => (start.animals === undefined) !== (start.assurance === undefined), {
    path: ['animals'],
    error: 'must be given, or assurance in its place, and not both',
  });

export type StarterGroupInput = z.output<typeof starterGroupInput>;

/** `animals` only where the input asked for the smallest number. */
export interface StarterGroup {
  animals?: number;
  probability: number;
}

/**
 * How safe a start is: the probability that a group drawn blindly holds at least so many males and females;
 * or, with `assurance` in place of `animals`, the smallest group that is as safe as that.
 *
 * Females ~ Binomial(animals, femaleShare), each animal's sex on its own; a species that clusters by sex
 * (sibling broods of one sex, sexes that feed apart) needs more. For parthenogenetic species ask for no males
 * at a female share of 1.
 *
 * Errors: an assurance that no group, or none up to 10,000 animals, can give.
 *
 * @example starterGroup({ animals: 12, femaleShare: 0.5, atLeast: { males: 2, females: 2 } })
 * // { probability: 0.99365 } = 1 - 26/4096: about a dozen nearly assures several of both sexes (common practice)
 */
export function starterGroup(start: StarterGroupInput): StarterGroup {
  if (start.animals !== undefined) return { probability: bothPresent(start.animals, start) };
  const assurance = start.assurance ?? 1;
  refuseImpossible(start);
  const { males, females } = start.atLeast;
  const fewest = Math.max(1, males + females);
  const animals = smallestWhere((n) => bothPresent(n, start) >= assurance, fewest, MOST_STARTERS);
  if (animals > MOST_STARTERS) {
    throw new CalculationError(
      `cannot be reached with ${MOST_STARTERS.toLocaleString('en')} animals or fewer`,
      'assurance',
    );
  }
  return { animals, probability: bothPresent(animals, start) };
}

function refuseImpossible({ femaleShare, atLeast }: StarterGroupInput): void {
  if (femaleShare === 1 && atLeast.males > 0) {
    throw new CalculationError('is 1, so there are never the males asked for', 'femaleShare');
  }
  if (femaleShare === 0 && atLeast.females > 0) {
    throw new CalculationError('is 0, so there are never the females asked for', 'femaleShare');
  }
}

/** P(females >= f and males >= m) among n animals. */
function bothPresent(n: number, { femaleShare, atLeast }: Omit<StarterGroupInput, 'animals'>): number {
  const { males, females } = atLeast;
  if (n < males + females) return 0;
  const missing = between(0, females - 1, n, femaleShare) + between(n - males + 1, n, n, femaleShare);
  // Near 1 the small complement is the exact side, near 0 the sum itself is.
  return missing < 0.5 ? 1 - missing : Math.min(1, between(females, n - males, n, femaleShare));
}

function between(from: number, to: number, n: number, share: number): number {
  let sum = 0;
  for (let females = from; females <= to; females += 1) sum += Math.exp(logBinomial(females, n, share));
  return sum;
}
