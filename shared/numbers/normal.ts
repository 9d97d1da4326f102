const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);

/** Beyond this the continued fraction converges quickly; before it the power series loses nothing. */
const FRACTION_FROM = 2.5;

/** P(Z > z) for z >= 0. Abramowitz and Stegun (1964) eq. 26.2.11 (series) and 26.2.14 (continued fraction). */
function upperTail(z: number): number {
  if (z > 38.6) return 0;
  const density = Math.exp(-0.5 * z * z) / SQRT_TWO_PI;
  if (z < FRACTION_FROM) {
    let term = z;
    let sum = z;
    for (let k = 3; term > 1e-17 * sum; k += 2) {
      term *= (z * z) / k;
      sum += term;
    }
    return 0.5 - density * sum;
  }
  let fraction = z;
  for (let k = 120; k >= 1; k -= 1) fraction = z + k / fraction;
  return density / fraction;
}

/**
 * P(Z <= z) for a standard normal Z.
 *
 * @example normalCdf(1.959963984540054) // 0.975
 */
export function normalCdf(z: number): number {
  return z < 0 ? upperTail(-z) : 1 - upperTail(z);
}

/**
 * The z with P(Z <= z) = p; -Infinity at 0, +Infinity at 1, NaN outside [0, 1].
 *
 * Starts from the rational approximation of Abramowitz and Stegun (1964) eq. 26.2.23 and corrects it
 * with Halley's method on the tail probability; the result is exact to about 1e-14.
 *
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0) return Number.NEGATIVE_INFINITY;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const tail = Math.min(p, 1 - p);
  const t = Math.sqrt(-2 * Math.log(tail));
  let z =
    t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  z = Math.max(z, 0);
  for (let step = 0; step < 4; step += 1) {
    const excess = (upperTail(z) - tail) / (Math.exp(-0.5 * z * z) / SQRT_TWO_PI);
    const change = excess / (1 - 0.5 * z * excess);
    z += change;
    if (Math.abs(change) < 1e-15 * Math.max(1, z)) break;
  }
  return p < 0.5 ? -z : z;
}

/**
 * The two-sided multiplier: P(-z <= Z <= z) = level, for level in (0, 1).
 *
 * @example twoSidedZ(0.9) // 1.6448536269514722
 */
export function twoSidedZ(level: number): number {
  return -normalQuantile((1 - level) / 2);
}
