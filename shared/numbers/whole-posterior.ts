/** Every whole number is visited up to this many steps from the start; beyond, steps grow with the distance. */
const STEPS_PER_E_FOLD = 4096;

/**
 * Two quantiles of a distribution over the whole numbers from `from` upward that is given by its
 * unnormalised log mass, which must fall at least like n^-2 in the end.
 *
 * Near the start every number counts; further out the mass between two visited numbers is taken from the
 * trapezoid rule (steps of 1/4096 of the distance from the start, far finer than any hump of a distribution
 * over counts). What lies beyond the last visited number is closed with the n^-2 tail.
 *
 * @returns the smallest n with P(N <= n) >= tail, and with P(N <= n) >= 1 - tail
 */
export function wholeQuantiles(
  logMass: (n: number) => number,
  from: number,
  tail: number,
): { lower: number; upper: number } {
  const points: number[] = [];
  const logs: number[] = [];
  let peak = Number.NEGATIVE_INFINITY;
  let n = from;
  let total = 0;
  let beyond = 0;
  for (;;) {
    const log = logMass(n);
    if (log > peak) {
      total *= Math.exp(peak - log);
      peak = log;
    }
    const mass = Math.exp(log - peak);
    const stride = Math.max(1, Math.floor((n - from) / STEPS_PER_E_FOLD));
    points.push(n);
    logs.push(log);
    total += mass * stride;
    beyond = mass * n;
    if (beyond < 1e-3 * tail * total || n > 1e15) break;
    n += stride;
  }
  return quantilesOf(points, logs, peak, beyond, tail);
}

function quantilesOf(
  points: readonly number[],
  logs: readonly number[],
  peak: number,
  beyond: number,
  tail: number,
): { lower: number; upper: number } {
  const cumulative = new Float64Array(points.length);
  let sum = 0;
  for (let i = 0; i < points.length; i += 1) {
    const mass = Math.exp((logs[i] as number) - peak);
    const gap = i === 0 ? 1 : (points[i] as number) - (points[i - 1] as number);
    const before = i === 0 ? mass : Math.exp((logs[i - 1] as number) - peak);
    // The numbers after the last point, up to and with this one.
    sum += gap === 1 ? mass : (gap * (before + mass)) / 2 + (mass - before) / 2;
    cumulative[i] = sum;
  }
  const total = sum + beyond;
  return { lower: at(tail * total), upper: at((1 - tail) * total) };

  function at(target: number): number {
    let i = cumulative.findIndex((value) => value >= target);
    if (i < 0) i = points.length - 1;
    if (i === 0) return points[0] as number;
    const [left, right] = [points[i - 1] as number, points[i] as number];
    const [below, above] = [cumulative[i - 1] as number, cumulative[i] as number];
    if (right - left === 1 || above === below) return right;
    return Math.min(right, Math.ceil(left + ((target - below) / (above - below)) * (right - left)));
  }
}
