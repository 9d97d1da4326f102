import type { Breeding } from './form.ts';

/** One gene copy: with fewer there would be nothing to pass on. */
const LEAST = 0.5;

/**
 * How many ideal parents a number of animals is worth: Ne = neRatio x 4 s (1 - s) n, where s is the share of
 * females (4 Nm Nf / (Nm + Nf), Wright 1931) and neRatio stands for everything else that makes animals
 * contribute unequally. Never below 0.5, a single gene copy.
 *
 * With females only (s = 1, parthenogenetic species) the formula gives 0, so Ne is 0.5 whatever the number:
 * such a line is taken for one clone, inbreeding 1, and the figures say nothing of the heterozygosity that a
 * clone keeps fixed within each animal.
 *
 * Units: animals. Errors: none.
 *
 * @example effectiveSize(10, { femaleShare: 0.9, neRatio: 1 }) // 3.6: one male with nine females
 */
export function effectiveSize(
  animals: number,
  { femaleShare, neRatio }: Pick<Breeding, 'femaleShare' | 'neRatio'>,
): number {
  return Math.max(LEAST, neRatio * 4 * femaleShare * (1 - femaleShare) * animals);
}

/**
 * The share of heterozygosity that so many generations (or founding steps) at one effective size leave:
 * (1 - 1/(2 Ne))^generations (Wright 1931).
 *
 * @example keptOver(2, 1) // 0.75: one pair keeps three quarters
 */
export function keptOver(ne: number, generations: number): number {
  return (1 - 1 / (2 * ne)) ** generations;
}
