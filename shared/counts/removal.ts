import { CalculationError } from '../faults.ts';
import { digammaStep, logGammaStep } from '../numbers/gamma-steps.ts';
import { wholeQuantiles } from '../numbers/whole-posterior.ts';
import { smallestWhere } from '../numbers/whole-search.ts';
import { type CountEstimate, countEstimateOf, tailOf } from './estimate.ts';
import type { RemovalCount } from './form.ts';

/** Beyond this many times the animals caught, the likelihood is flat to the last digit. */
const LARGEST_SHARE_UNCAUGHT = 1e6;

/** What a removal count comes down to: k catches, their total, and X = sum of (k - i) c_i (i from 1). */
export interface Catches {
  passes: number;
  total: number;
  weighted: number;
}

/** Sums up the catches. Errors: nothing caught; the catches do not fall on the whole. */
export function sumCatches(catches: readonly number[]): Catches {
  const passes = catches.length;
  const total = catches.reduce((sum, caught) => sum + caught, 0);
  const weighted = catches.reduce((sum, caught, i) => sum + (passes - 1 - i) * caught, 0);
  if (total === 0) throw new CalculationError('are all zero: nothing was caught', 'catches');
  // The mean catch must come before the middle pass, or the likelihood has no maximum worth the name.
  if (weighted <= (total * (passes - 1)) / 2) {
    throw new CalculationError('do not decline, so the number of animals cannot be estimated', 'catches');
  }
  return { passes, total, weighted };
}

/** The share caught in each pass when N animals were there: all caught over all that could have been. */
export function catchability({ passes, total, weighted }: Catches, n: number): number {
  return total / (passes * n - weighted);
}

/**
 * Log likelihood of N with the share caught at its best value for that N (a constant left out); N real,
 * at least the animals caught. Moran (1951), Zippin (1956).
 */
export function removalLogLikelihood(catches: Catches, n: number): number {
  const { passes, total, weighted } = catches;
  const p = catchability(catches, n);
  const misses = passes * n - weighted - total;
  const missed = misses > 0 ? misses * Math.log1p(-p) : 0;
  return logGammaStep(n - total + 1, total) + total * Math.log(p) + missed;
}

/**
 * Zippin's (1956) standard error of N: N (1 - q^k) q^k / ((1 - q^k)^2 - (k p)^2 q^(k-1)), its root.
 * The denominator is written as a sum of squares, because for a small share caught its two parts nearly cancel.
 *
 * @example zippinStandardError(91, 76 / 171, 3) // 9.69 (catches 38, 26, 12; Carle and Strub 1978 print 9.7)
 */
export function zippinStandardError(n: number, p: number, passes: number): number {
  if (p >= 1) return 0;
  const logQ = Math.log1p(-p);
  const missedByAll = Math.exp(passes * logQ);
  const sum = -Math.expm1(passes * logQ) / p;
  // (1 - q^k)/p = 1 + q + ... + q^(k-1); less k q^((k-1)/2) it is the sum of these squares.
  let squares = 0;
  for (let j = 0; 2 * j < passes - 1; j += 1) {
    squares += Math.exp(j * logQ) * Math.expm1(((passes - 1 - 2 * j) / 2) * logQ) ** 2;
  }
  const denominator = squares * (sum + passes * Math.exp(((passes - 1) / 2) * logQ));
  return Math.sqrt((n * (sum / p) * missedByAll) / denominator);
}

/**
 * How many animals there were before several catches with the same effort, nothing put back between them.
 *
 * Model: every animal is caught in each pass with the same unknown share p (the constant-p removal model).
 * Estimators:
 * - carle-strub: Carle and Strub (1978), maximum weighted likelihood with weights alpha = beta = 1: the
 *   smallest whole N >= T with (N+1)/(N-T+1) prod_i (kN-X-T+beta+k-i)/(kN-X+alpha+beta+k-i) < 1.
 *   Standard error: Zippin's, at that N.
 * - zippin: the maximum of the likelihood over real N (Moran 1951, Zippin 1956), with the exact factorials.
 *   Standard error: Zippin's.
 * - seber-two-pass: c1^2 / (c1 - c2), standard error c1 c2 sqrt(T) / (c1 - c2)^2 (Seber and Le Cren 1967).
 *
 * Interval, the same for all three: equal-tailed posterior of N under p uniform on (0, 1) (the weights of
 * Carle and Strub) and p(N) proportional to 1/N, summed over the whole numbers. It is lopsided as it should
 * be, finite however slowly the catches fall, and never below the animals caught; unlike estimate -+ z
 * standard errors it stays wider than nothing when the last catch is empty.
 *
 * Errors: all catches zero; no decline over the catches (for two: the second not smaller); a decline so weak
 * that the likelihood is flat.
 *
 * @example removalEstimate({ method: 'removal', catches: [77, 50, 37], estimator: 'carle-strub', level: 0.9 })
 * // estimate 233, standardError 31.36, lower 203, upper 361
 */
export function removalEstimate(count: RemovalCount): CountEstimate {
  const catches = sumCatches(count.catches);
  const interval = wholeQuantiles(posteriorLogMass(catches), catches.total, tailOf(count));
  if (count.estimator === 'seber-two-pass') {
    const [first, second] = count.catches as [number, number];
    const fall = first - second;
    const standardError = (first * second * Math.sqrt(first + second)) / fall ** 2;
    return countEstimateOf(count, first ** 2 / fall, standardError, interval);
  }
  const n = count.estimator === 'carle-strub' ? carleStrub(catches) : likeliest(catches);
  const standardError = zippinStandardError(n, catchability(catches, n), catches.passes);
  return countEstimateOf(count, n, standardError, interval);
}

/** Carle and Strub's whole N, weights 1 and 1. */
function carleStrub({ passes, total, weighted }: Catches): number {
  const falls = (n: number): boolean => {
    let log = Math.log1p(total / (n - total + 1));
    for (let i = 1; i <= passes; i += 1) {
      log += Math.log1p(-(total + 1) / (passes * n - weighted + 2 + passes - i));
    }
    return log < 0;
  };
  return smallestWhere(falls, total);
}

/** The real N where the derivative of the log likelihood is zero: psi(N+1) - psi(N-T+1) + k ln(1 - p) = 0. */
function likeliest(catches: Catches): number {
  const { passes, total } = catches;
  const slope = (n: number): number => {
    const p = catchability(catches, n);
    return p >= 1 ? Number.NEGATIVE_INFINITY : digammaStep(n - total + 1, total) + passes * Math.log1p(-p);
  };
  let low = total;
  if (slope(low) <= 0) return low;
  let high = 2 * total + 1;
  while (slope(high) > 0) {
    low = high;
    high *= 2;
    if (high > LARGEST_SHARE_UNCAUGHT * total) {
      throw new CalculationError('decline too little to say how many animals there are', 'catches');
    }
  }
  while (high - low > 1e-12 * high) {
    const middle = (low + high) / 2;
    if (slope(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** ln of (1/N) N!/(N-T)! B(T + 1, kN - X - T + 1): p integrated out, constants left out. */
function posteriorLogMass({ passes, total, weighted }: Catches): (n: number) => number {
  return (n) => {
    const misses = passes * n - weighted - total;
    return logGammaStep(n - total + 1, total) - logGammaStep(misses + 1, total + 1) - Math.log(n);
  };
}
