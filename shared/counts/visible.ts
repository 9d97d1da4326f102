import { CalculationError } from '../faults.ts';
import { betaBinomialCdf } from '../numbers/beta-binomial.ts';
import { largestWhere, smallestWhere } from '../numbers/whole-search.ts';
import { type CountEstimate, countEstimateOf, tailOf } from './estimate.ts';
import type { VisibleCount } from './form.ts';

/**
 * How many animals there are when only those that showed were counted.
 *
 * Model: y ~ Beta-binomial(N, alpha, beta); the share that shows differs by species and visit,
 * p ~ Beta(alpha, beta). Estimate y (alpha + beta) / alpha: the number seen over the mean share, the
 * moment estimator, unbiased for N whatever alpha and beta are. Standard error: the standard deviation of
 * that estimator at N = estimate; null when nothing was seen (it would be a false 0).
 *
 * Interval: equal-tailed test inversion, exact (after Clopper and Pearson 1934, with the beta-binomial in
 * place of the binomial): lower = the smallest N with P(Y >= y | N) > tail, upper = the largest N with
 * P(Y <= y | N) > tail, tail = (1 - level) / 2. No prior on N is used; over many counts it holds the truth
 * at least as often as `level` says. Lower is never below the animals seen; with none seen it is 0. Read
 * as a posterior, it spans the one under p(N) proportional to 1/N, whose mean is infinite for alpha <= 1;
 * the interval stays finite then, but its upper end grows like tail^(-1/alpha).
 *
 * Errors: a share that may be so near 0 that no upper end can be written down (alpha below about 0.01).
 *
 * @example visibleEstimate({ method: 'visible', counted: 23, detection: { alpha: 6, beta: 14 }, level: 0.9 })
 * // estimate 76.67, standardError 28.70, lower 44, upper 169
 */
export function visibleEstimate(count: VisibleCount): CountEstimate {
  const { counted } = count;
  const { alpha, beta } = count.detection;
  const tail = tailOf(count);
  const estimate = (counted * (alpha + beta)) / alpha;
  const lower = smallestWhere((n) => 1 - betaBinomialCdf(counted - 1, n, alpha, beta) > tail, counted);
  const upper = largestWhere((n) => betaBinomialCdf(counted, n, alpha, beta) > tail, counted);
  if (!Number.isFinite(upper) || !Number.isFinite(estimate)) {
    throw new CalculationError('lets the share that shows be so near 0 that any number fits', 'detection');
  }
  return countEstimateOf(count, estimate, standardError(estimate, alpha, beta), { lower, upper });
}

/** Var(Y | N) = N a b (a + b + N) / ((a + b)^2 (a + b + 1)), brought to the scale of N by (a + b) / a. */
function standardError(n: number, alpha: number, beta: number): number | null {
  if (n === 0) return null;
  const both = alpha + beta;
  return Math.sqrt((n * beta * (both + n)) / (alpha * (both + 1)));
}
