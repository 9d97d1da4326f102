import { CalculationError } from '../faults.ts';
import { betaQuantileOdds } from '../numbers/beta.ts';
import { type CountEstimate, countEstimateOf, tailOf } from './estimate.ts';
import type { SampleCount } from './form.ts';

/**
 * How many animals there are when a known fraction of the substrate was searched.
 *
 * Model: y ~ Negative binomial with mean fraction x N and size `clumping` (small: strongly clumped;
 * variance mean + mean^2 / size). Estimate y / fraction, the maximum of the likelihood and unbiased.
 * Standard error: sqrt(m + m^2 / size) / fraction at m = y; null when nothing was found.
 *
 * Interval: equal-tailed test inversion, exact (after Clopper and Pearson 1934): lower = the smallest whole
 * N with P(Y >= y | N) >= tail, upper = the largest with P(Y <= y | N) >= tail, tail = (1 - level) / 2. Both
 * in closed form, since P(Y <= y) = I_q(size, y + 1) with q = size / (size + mean) (the negative binomial
 * and the incomplete beta function: Abramowitz and Stegun 1964, eq. 26.5.26). No prior is used. Lower is
 * never below the animals found.
 *
 * With fraction 1 it still doubts the count as clumping says; when really everything was searched, that is
 * a full count.
 *
 * Errors: clumping so strong that no upper end can be written down (size below about 0.005).
 *
 * @example sampleEstimate({ method: 'sample', counted: 31, fraction: 0.2, clumping: 4, level: 0.9 })
 * // estimate 155, standardError 82.35, lower 75, upper 480
 */
export function sampleEstimate(count: SampleCount): CountEstimate {
  const { counted, fraction, clumping } = count;
  const tail = tailOf(count);
  // q is beta distributed in this role, so mean / size = (1 - q) / q: the odds of 1 - q ~ Beta(y + 1, size).
  const upperMean = clumping * betaQuantileOdds(1 - tail, counted + 1, clumping);
  const lowerMean = counted === 0 ? 0 : clumping * betaQuantileOdds(tail, counted, clumping);
  const upper = Math.floor(upperMean / fraction);
  if (!Number.isFinite(upper)) {
    throw new CalculationError('is so strong that any number of animals fits', 'clumping');
  }
  const standardError = counted === 0 ? null : Math.sqrt(counted + counted ** 2 / clumping) / fraction;
  return countEstimateOf(count, counted / fraction, standardError, {
    lower: Math.max(counted, Math.ceil(lowerMean / fraction)),
    upper: Math.max(counted, upper),
  });
}
