// The closed form of one node that loses heat in proportion to its difference from outside, while the temperature it
// strives for (the air outside, plus watts over conductance) runs in a straight line:
//   dT/ds = (a + b s - T) / tau,  T(s) = T0 + (a - T0)(1 - e) + b (s - tau (1 - e)),  e = exp(-s / tau).
// Hours throughout.

/** A stretch of time in which nothing melts: where the node starts, and the line it strives along. */
export interface Stretch {
  from: number;
  /** What it strives for at the start, and its change per hour. */
  towards: number;
  slope: number;
  tau: number;
}

/**
 * The share of a difference that is gone after so many hours, 1 - e.
 *
 * @example goneIn(10, 10) // 1 - 1/e = 0.632
 */
export const goneIn = (hours: number, tau: number): number => -Math.expm1(-hours / tau);

/**
 * The temperature after so many hours of a stretch.
 *
 * @example tempAfter({ from: 20, towards: 0, slope: 0, tau: 10 }, 10) // 20 / e = 7.358
 */
export function tempAfter({ from, towards, slope, tau }: Stretch, hours: number): number {
  const gone = goneIn(hours, tau);
  return from + (towards - from) * gone + slope * (hours - tau * gone);
}

/**
 * When in a stretch the temperature turns, in hours from its start; null where it only rises or only falls. There is at
 * most one such moment: the temperature is steepest at either end.
 *
 * @example turnsAfter({ from: 10, towards: 0, slope: 10, tau: 1 }, 5) // 0.693, where it meets the rising line
 */
export function turnsAfter({ from, towards, slope, tau }: Stretch, hours: number): number | null {
  const pull = (towards - from) / tau;
  if (pull === 0 || slope === 0 || pull > 0 === slope > 0) return null;
  const turns = tau * Math.log1p(-pull / slope);
  return turns > 0 && turns < hours ? turns : null;
}

/**
 * When, between two hours of a stretch that hold a level between their temperatures and no turn, the level is reached.
 * Newton's steps inside a bracket that shrinks at least by half: it always ends.
 *
 * @example reaches({ from: 20, towards: 0, slope: 0, tau: 10 }, 10, 0, 48) // 10 ln 2 = 6.931
 */
export function reaches(stretch: Stretch, level: number, low: number, high: number): number {
  const { towards, slope, tau } = stretch;
  if (slope === 0) {
    const hours = tau * Math.log((towards - stretch.from) / (towards - level));
    if (Number.isFinite(hours)) return Math.min(high, Math.max(low, hours));
  }
  const isRising = tempAfter(stretch, high) > tempAfter(stretch, low);
  let [left, right] = [low, high];
  let at = (low + high) / 2;
  for (let step = 0; step < 100; step += 1) {
    const over = tempAfter(stretch, at) - level;
    if (over === 0) return at;
    if (over > 0 === isRising) right = at;
    else left = at;
    const steepness = (towards + slope * at - level - over) / tau;
    const next = at - over / steepness;
    const half = (left + right) / 2;
    const moved = next > left && next < right ? next : half;
    if (Math.abs(moved - at) <= 1e-14 * (1 + at) || half <= left || half >= right) return moved;
    // A step of Newton's that hardly shrinks the bracket is followed by one that halves it.
    at = step % 4 === 3 ? half : moved;
  }
  return at;
}

/**
 * The first moment after the start at which `rate s + slope s^2 / 2` comes to a sum; Infinity if it never does. For a
 * sum of 0 it is the moment it comes back there.
 *
 * @example sumReaches(2, 0, 10) // 5
 */
export function sumReaches(rate: number, slope: number, sum: number): number {
  if (slope === 0) return rate !== 0 && sum / rate > 0 ? sum / rate : Number.POSITIVE_INFINITY;
  const under = rate * rate + 2 * slope * sum;
  if (under < 0) return Number.POSITIVE_INFINITY;
  // The two roots without the difference of two near numbers.
  const large = -(rate + (rate >= 0 ? 1 : -1) * Math.sqrt(under));
  const roots = [large / slope, large === 0 ? 0 : (-2 * sum) / large];
  const coming = roots.filter((root) => root > 0);
  return coming.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...coming);
}
