import { logGammaStep } from './gamma-steps.ts';
import { logBeta, logGamma } from './log-gamma.ts';

/** Up to here every term is added up; beyond, terms are taken in strides. */
const MOST_TERMS = 20_000;

/** Strides of this share of the distance to either end of the sum. */
const STRIDES = 512;

/**
 * Log probability that y of n show when p ~ Beta(alpha, beta): as `logBetaBinomial` in densities.ts, but
 * without loss of digits for n in the billions, where the plain form subtracts huge logarithms.
 */
function logMass(y: number, n: number, alpha: number, beta: number): number {
  const hidden = n - y;
  return (
    logGammaStep(hidden + 1, y) -
    logGamma(y + 1) +
    logGamma(y + alpha) -
    logGammaStep(hidden + beta, y + alpha) -
    logBeta(alpha, beta)
  );
}

/**
 * P(Y <= y) for Y ~ Beta-binomial(n, alpha, beta), y and n whole, 0 <= y <= n.
 *
 * Up to y = 20,000 summed downward from y with the ratio of neighbouring terms, until what is left cannot
 * matter; exact to about 1e-11. Beyond, summed in strides (see `inStrides`): to about 1e-6 within
 * twenty standard deviations of the mean, where it matters, and to 1e-4 farther out.
 *
 * @example betaBinomialCdf(0, 2, 1, 1) // 1/3
 */
export function betaBinomialCdf(y: number, n: number, alpha: number, beta: number): number {
  if (y < 0) return 0;
  if (y >= n) return 1;
  if (y > MOST_TERMS) return inStrides(y, n, alpha, beta);
  let term = 1;
  let sum = 1;
  let scale = logMass(y, n, alpha, beta);
  for (let j = y; j >= 1; j -= 1) {
    const ratio = (j * (n - j + beta)) / ((n - j + 1) * (j - 1 + alpha));
    term *= ratio;
    sum += term;
    if (sum > 1e280) {
      term /= 1e280;
      sum /= 1e280;
      scale += 280 * Math.LN10;
    }
    // With alpha below 1 the terms may rise again towards 0, so only a one-humped sum may stop early.
    if (ratio < 1 && alpha >= 1 && term < 1e-17 * sum) break;
  }
  return Math.min(1, Math.exp(scale + Math.log(sum)));
}

/**
 * The same for millions: masses are looked up in strides of 1/512 of the distance to the nearer end of the
 * sum, and change evenly in between. A hump that such strides could miss lies more than 500 standard deviations
 * from y; there the answer is 0 or 1 to 4e-6 (Cantelli's inequality).
 */
function inStrides(y: number, n: number, alpha: number, beta: number): number {
  const both = alpha + beta;
  const mean = (n * alpha) / both;
  const sd = Math.sqrt((mean * (beta / both) * (both + n)) / (both + 1));
  if (Math.abs(y - mean) > 500 * sd) return y < mean ? 0 : 1;
  let peak = logMass(y, n, alpha, beta);
  let sum = 1;
  let before = peak;
  for (let j = y; j > 0; ) {
    const gap = Math.max(1, Math.floor(Math.min(y - j, j) / STRIDES));
    j -= gap;
    const log = logMass(j, n, alpha, beta);
    if (log > peak) {
      sum *= Math.exp(peak - log);
      peak = log;
    }
    const [high, low] = [Math.exp(before - peak), Math.exp(log - peak)];
    sum += gap === 1 ? low : (gap * (high + low)) / 2 + (low - high) / 2;
    if (alpha >= 1 && log < before && low * j < 1e-12 * sum) break;
    before = log;
  }
  return Math.min(1, Math.exp(peak + Math.log(sum)));
}
