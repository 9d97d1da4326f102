import { effectiveSize, keptOver } from './effective-size.ts';
import type { Breeding } from './form.ts';

/**
 * The effective size below which a culture's heterozygosity is called at risk: from here on down each generation
 * loses 1 % or more, 1/(2 x 50) (the lower of the two numbers of Franklin 1980; cited from memory).
 */
export const effectiveFloor = 50;

/** A culture that keeps less than this of its founders' heterozygosity is called inbred: one pair leaves 3/4. */
export const inbredBelow = keptOver(2, 1);

type Mating = Pick<Breeding, 'femaleShare' | 'neRatio'>;

/** Whether a species is kept as females (or males) alone: the figures of inbreeding say nothing of a clone. */
export const isClonal = ({ femaleShare }: Pick<Breeding, 'femaleShare'>): boolean =>
  femaleShare <= 0 || femaleShare >= 1;

export interface StartEffect {
  readonly animals: number;
  readonly effectiveSize: number;
  /** What one founding step leaves of the parent's heterozygosity. */
  readonly keptOfParent: number;
  /** What the new culture keeps of the founders' heterozygosity; null where the parent's is not known. */
  readonly kept: number | null;
}

/**
 * What starting a culture with so many animals does: their effective size, and what the founding step leaves of
 * the heterozygosity (Wright 1931; see `effectiveSize` and `keptOver`).
 *
 * @example startEffect(20, { femaleShare: 0.5, neRatio: 0.5 }, 0.9)
 * // effective size 10, of which 0.95 is left of the parent's 0.9: 0.855
 */
export function startEffect(animals: number, mating: Mating, parentKept: number | null): StartEffect {
  const ne = effectiveSize(animals, mating);
  const keptOfParent = keptOver(ne, 1);
  return {
    animals,
    effectiveSize: ne,
    keptOfParent,
    kept: parentKept === null ? null : parentKept * keptOfParent,
  };
}

/**
 * The fewest animals with the effective size aimed at; null where no number reaches it (females alone).
 *
 * @example animalsForEffective(50, { femaleShare: 0.5, neRatio: 0.5 }) // 100
 */
export function animalsForEffective(aim: number, mating: Mating): number | null {
  if (isClonal(mating)) return null;
  const each = mating.neRatio * 4 * mating.femaleShare * (1 - mating.femaleShare);
  // Whole numbers such as 50 / 0.5 must not become one more by rounding.
  return Math.ceil(aim / each - 1e-9);
}
