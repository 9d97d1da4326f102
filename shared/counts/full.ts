import { twoSidedZ } from '../numbers/normal.ts';
import { type CountEstimate, countEstimateOf } from './estimate.ts';
import type { FullCount } from './form.ts';

/** A count of none means that less than half an animal was measured, before rounding to whole animals. */
const ROUNDED_TO_NONE = 0.5;

/**
 * How many animals there are when all were taken out and counted, with a relative error.
 *
 * Model: log y ~ Normal(log N, relativeSd). Estimate y (the maximum of the likelihood), standard error
 * y x relativeSd, interval y exp(-+ z relativeSd): equal-tailed, normal on the log scale (the confidence
 * interval and the posterior under a flat prior on log N are the same one).
 *
 * None counted: the estimate is 0, without a standard error; the interval runs from 0 to
 * 0.5 exp(z relativeSd), the N whose measured value would still round to none: below one animal unless the
 * count is very rough.
 *
 * Do not use it when part of the substrate was left unsearched: that is a sample or a visible count.
 *
 * @example fullEstimate({ method: 'full', counted: 84, relativeSd: 0.05, level: 0.9 })
 * // estimate 84, standardError 4.2, lower 77.37, upper 91.20
 */
export function fullEstimate(count: FullCount): CountEstimate {
  const spread = Math.exp(twoSidedZ(count.level) * count.relativeSd);
  if (count.counted === 0) {
    return countEstimateOf(count, 0, null, { lower: 0, upper: ROUNDED_TO_NONE * spread });
  }
  return countEstimateOf(count, count.counted, count.counted * count.relativeSd, {
    lower: count.counted / spread,
    upper: count.counted * spread,
  });
}
