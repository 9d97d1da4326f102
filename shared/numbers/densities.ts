import { logBeta, logChoose, logGamma } from './log-gamma.ts';

const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);

/**
 * Log density of a normal with the given mean and standard deviation (sd > 0).
 *
 * @example logNormalPdf(0, 0, 1) // -0.9189385332046728
 */
export function logNormalPdf(x: number, mean: number, sd: number): number {
  const z = (x - mean) / sd;
  return -0.5 * z * z - Math.log(sd) - HALF_LOG_TWO_PI;
}

/**
 * Log density of a log-normal: log x ~ Normal(meanLog, sdLog), as a density in x (x > 0; -Infinity at or below 0).
 *
 * @example logLogNormalPdf(1, 0, 1) // -0.9189385332046728
 */
export function logLogNormalPdf(x: number, meanLog: number, sdLog: number): number {
  if (!(x > 0)) return Number.NEGATIVE_INFINITY;
  const logX = Math.log(x);
  return logNormalPdf(logX, meanLog, sdLog) - logX;
}

/**
 * Log probability of y successes in n trials with success probability p in [0, 1].
 *
 * @example logBinomial(2, 4, 0.5) // ln(6/16) = -0.9808292530117262
 */
export function logBinomial(y: number, n: number, p: number): number {
  if (y < 0 || y > n) return Number.NEGATIVE_INFINITY;
  const hits = y === 0 ? 0 : y * Math.log(p);
  const misses = y === n ? 0 : (n - y) * Math.log1p(-p);
  return logChoose(n, y) + hits + misses;
}

/**
 * Log probability that y of n animals show when the share that shows is p ~ Beta(alpha, beta).
 *
 * C(n, y) B(y + alpha, n - y + beta) / B(alpha, beta); n may be a real number (the factorials become
 * gammas), which a filter over log N needs. -Infinity where y < 0 or y > n.
 *
 * @example logBetaBinomial(1, 2, 1, 1) // uniform over 0, 1, 2: ln(1/3) = -1.0986122886681098
 */
export function logBetaBinomial(y: number, n: number, alpha: number, beta: number): number {
  if (y < 0 || y > n) return Number.NEGATIVE_INFINITY;
  return logChoose(n, y) + logBeta(y + alpha, n - y + beta) - logBeta(alpha, beta);
}

/**
 * Log probability of the count y under a negative binomial with the given mean and size
 * (variance mean + mean^2 / size); size > 0, mean >= 0.
 *
 * @example logNegativeBinomial(0, 4, 4) // 4 ln(1/2) = -2.772588722239781
 */
export function logNegativeBinomial(y: number, mean: number, size: number): number {
  if (y < 0) return Number.NEGATIVE_INFINITY;
  if (mean === 0) return y === 0 ? 0 : Number.NEGATIVE_INFINITY;
  const zeroPart = -size * Math.log1p(mean / size);
  if (y === 0) return zeroPart;
  return logGamma(y + size) - logGamma(size) - logGamma(y + 1) + zeroPart - y * Math.log1p(size / mean);
}
