import { chanceOfAtLeast, type Distribution } from '../counts/population/mixture.ts';
import type { SurplusSettings } from './form.ts';

/** Weighted values of the share of adults, for sums in place of an integral over its Beta distribution. */
export interface Shares {
  readonly value: Float64Array;
  readonly weight: Float64Array;
}

const POINTS = 240;
/** The density is followed until it has fallen by this much, in logs. */
const FALL = 16;

/**
 * Beta(alpha, beta) as points, even in the log-odds t of the share, where its density is proportional to
 * exp(alpha t - (alpha + beta) log(1 + e^t)): smooth with thin tails, so that plain sums are exact to many digits.
 */
export function sharesOf({ alpha, beta }: SurplusSettings['adultShare']): Shares {
  const log = (t: number) =>
    alpha * t - (alpha + beta) * (t > 0 ? t + Math.log1p(Math.exp(-t)) : Math.log1p(Math.exp(t)));
  const mode = Math.log(alpha / beta);
  const top = log(mode);
  const end = (direction: 1 | -1): number => {
    let near = 0;
    let far = 1e-3;
    while (top - log(mode + direction * far) < FALL) far *= 2;
    while (far - near > 1e-3 * far) {
      const middle = (near + far) / 2;
      if (top - log(mode + direction * middle) < FALL) near = middle;
      else far = middle;
    }
    return mode + direction * far;
  };
  const low = end(-1);
  const step = (end(1) - low) / (POINTS - 1);
  const value = Float64Array.from({ length: POINTS }, (_, i) => 1 / (1 + Math.exp(-(low + i * step))));
  const weight = Float64Array.from({ length: POINTS }, (_, i) => Math.exp(log(low + i * step) - top));
  const sum = weight.reduce((total, w) => total + w, 0);
  return { value, weight: weight.map((w) => w / sum) };
}

/**
 * P(share x (N - promised) >= adults), the share of adults independent of N.
 */
export function chanceOfAdults(
  number: Distribution,
  shares: Shares,
  promised: number,
  adults: number,
): number {
  if (adults <= 0) return 1;
  let chance = 0;
  for (let i = 0; i < shares.value.length; i += 1) {
    chance += shares.weight[i]! * chanceOfAtLeast(number, promised + adults / shares.value[i]!);
  }
  return chance;
}
