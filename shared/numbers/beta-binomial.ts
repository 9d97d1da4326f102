import { logGammaStep } from './gamma-steps.ts';
import { logBeta, logGamma } from './log-gamma.ts';

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
 * Summed downward from y with the ratio of neighbouring terms, until what is left cannot matter.
 * Takes at most y steps.
 *
 * @example betaBinomialCdf(0, 2, 1, 1) // 1/3
 */
export function betaBinomialCdf(y: number, n: number, alpha: number, beta: number): number {
  if (y < 0) return 0;
  if (y >= n) return 1;
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
