/** Every whole number is visited up to this many steps from the start; beyond, steps grow with the distance. */
const STEPS_PER_E_FOLD = 4096;

/** The masses at the numbers visited, and what lies beyond the last of them. */
interface Survey {
  points: number[];
  masses: number[];
  beyond: number;
}

/**
 * Two quantiles of a distribution over the whole numbers from `from` upward that is given by its
 * unnormalised log mass, which must have one hump and fall at least like n^-2 in the end.
 *
 * Near the start every number counts; further out the mass between two visited numbers is taken as changing
 * evenly, in steps of 1/4096 of the distance from the start. That resolves a hump whose standard deviation is
 * 1/1000 of its distance or more: animals never seen are uncertain by the root of their number at least, so it
 * does up to a million of them. What lies beyond the last visited number is closed with a power law.
 *
 * @returns the smallest n with P(N <= n) >= tail, and with P(N <= n) >= 1 - tail
 *
 * @example wholeQuantiles((n) => -n * Math.LN2, 0, 0.2) // P(N <= n) = 1 - 2^-(n+1): { lower: 0, upper: 2 }
 */
export function wholeQuantiles(
  logMass: (n: number) => number,
  from: number,
  tail: number,
): { lower: number; upper: number } {
  const { points, masses, beyond } = survey(logMass, from, tail);
  const cumulative = new Float64Array(points.length);
  let sum = 0;
  for (let i = 0; i < points.length; i += 1) {
    sum += i === 0 ? (masses[0] as number) : massBetween(points, masses, i);
    cumulative[i] = sum;
  }
  const total = sum + beyond;
  const at = (target: number): number => {
    const i = cumulative.findIndex((value) => value >= target);
    if (i === 0) return points[0] as number;
    if (i < 0) return points.at(-1) as number;
    return inside(points, masses, i, target - (cumulative[i - 1] as number));
  };
  return { lower: at(tail * total), upper: at((1 - tail) * total) };
}

function survey(logMass: (n: number) => number, from: number, tail: number): Survey {
  const points: number[] = [];
  const logs: number[] = [];
  let peak = Number.NEGATIVE_INFINITY;
  let total = 0;
  let beyond = 0;
  for (let n = from; ; ) {
    const log = logMass(n);
    if (log > peak) {
      total *= Math.exp(peak - log);
      peak = log;
    }
    const stride = Math.max(1, Math.floor((n - from) / STEPS_PER_E_FOLD));
    const [before, previous] = [logs.at(-1), points.at(-1)];
    points.push(n);
    logs.push(log);
    total += Math.exp(log - peak) * stride;
    // f falls like n^-power here; the power law beyond sums to n f / (power - 1).
    const power = before === undefined || !previous ? 2 : (before - log) / Math.log(n / previous);
    beyond = (Math.exp(log - peak) * Math.max(1, n)) / (Math.max(2, power) - 1);
    if (beyond < 1e-3 * tail * total || n > 1e15) break;
    n += stride;
  }
  return { points, masses: logs.map((log) => Math.exp(log - peak)), beyond };
}

/** The mass of the whole numbers after point i - 1, up to and with point i. */
function massBetween(points: readonly number[], masses: readonly number[], i: number): number {
  const gap = (points[i] as number) - (points[i - 1] as number);
  const [before, mass] = [masses[i - 1] as number, masses[i] as number];
  return gap === 1 ? mass : (gap * (before + mass)) / 2 + (mass - before) / 2;
}

/** The number between points i - 1 and i up to which `wanted` of the mass after point i - 1 lies. */
function inside(points: readonly number[], masses: readonly number[], i: number, wanted: number): number {
  const [left, right] = [points[i - 1] as number, points[i] as number];
  const gap = right - left;
  if (gap === 1) return right;
  const [before, mass] = [masses[i - 1] as number, masses[i] as number];
  // before x + (mass - before) x^2 / (2 gap) = wanted, in the form that is stable for a flat piece.
  const root = Math.sqrt(Math.max(0, before * before + (2 * (mass - before) * wanted) / gap));
  return Math.min(right, Math.ceil(left + (2 * wanted) / (before + root)));
}
