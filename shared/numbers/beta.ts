import { logBeta } from './log-gamma.ts';

const TINY = 1e-300;

/** The continued fraction of the incomplete beta function (Abramowitz and Stegun 1964, eq. 26.5.8), by Lentz's method. */
function continuedFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let value = d;
  // Converges within a few times sqrt(max(a, b)) steps on the side it is used.
  const limit = 200 + 20 * Math.sqrt(Math.max(a, b));
  for (let m = 1; m <= limit; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    const change = d * c;
    value *= change;
    if (Math.abs(change - 1) < 1e-15) break;
  }
  return value;
}

function nonZero(value: number): number {
  return Math.abs(value) < TINY ? TINY : value;
}

/** I_x(a, b) from ln x and ln(1 - x), so that neither end loses digits. */
function fromLogs(logX: number, logY: number, a: number, b: number): number {
  const x = Math.exp(logX);
  const front = Math.exp(a * logX + b * logY - logBeta(a, b));
  return x < (a + 1) / (a + b + 2)
    ? (front * continuedFraction(x, a, b)) / a
    : 1 - (front * continuedFraction(Math.exp(logY), b, a)) / b;
}

/**
 * P(X <= x) for X ~ Beta(a, b), a, b > 0: the regularized incomplete beta function I_x(a, b).
 *
 * @example betaCdf(0.5, 2, 3) // 11/16 = 0.6875
 */
export function betaCdf(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  return fromLogs(Math.log(x), Math.log1p(-x), a, b);
}

/**
 * The odds x / (1 - x) of the p-quantile of Beta(a, b): the odds are exact to about 1e-13 of themselves
 * where x itself would round to 0 or 1. 0 or Infinity where even the odds leave the range of numbers.
 *
 * @example betaQuantileOdds(0.5, 1, 1) // 1
 */
export function betaQuantileOdds(p: number, a: number, b: number): number {
  let low = -746;
  let high = 746;
  while (high - low > 1e-14 * Math.max(1, Math.abs(low))) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    // ln x and ln(1 - x) at the log-odds `middle`.
    const logX = -softPlus(-middle);
    const logY = -softPlus(middle);
    if (fromLogs(logX, logY, a, b) < p) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/** ln(1 + e^t) without overflow. */
function softPlus(t: number): number {
  return t > 0 ? t + Math.log1p(Math.exp(-t)) : Math.log1p(Math.exp(t));
}

/**
 * The x with P(X <= x) = p for X ~ Beta(a, b), by bisection on the log-odds of x; 0 at p = 0, 1 at p = 1.
 *
 * @example betaQuantile(0.5, 1, 1) // 0.5
 */
export function betaQuantile(p: number, a: number, b: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0 || p === 1) return p;
  const odds = betaQuantileOdds(p, a, b);
  return odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds);
}
