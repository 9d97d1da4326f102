import { betaQuantileOdds } from './beta.ts';

/**
 * How many standard errors on either side hold a share of Student's t: the quantile of |t| at a level. T squared over
 * its degrees of freedom has the odds of a Beta(1/2, freedom/2).
 *
 * Source: the relation of t and beta, e.g. Abramowitz and Stegun (1964), 26.7.1 with 26.5.27 (from memory).
 *
 * @example twoSidedT(0.95, 10) // 2.228
 */
export function twoSidedT(level: number, freedom: number): number {
  return Math.sqrt(freedom * betaQuantileOdds(level, 0.5, freedom / 2));
}
