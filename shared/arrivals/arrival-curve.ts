import { twoSidedT } from '../numbers/student.ts';

/** What one parcel tells: how many of its animals were dead, and the temperature they are held against. */
export type Arrival = { tempC: number; sent: number; dead: number };

export type Penalty = 'firth' | 'none';

export type ArrivalCurve = {
  /** Log-odds of dying at `centreC`, and how they change with each degree. */
  intercept: number;
  slopePerC: number;
  /** The mean temperature of the parcels; the curve is reckoned from there. */
  centreC: number;
  /** Of intercept and slope, with the spread between parcels in it. */
  covariance: { intercept: number; slope: number; both: number };
  /** How much more parcels differ than animals that die by themselves would: 1 is not at all. */
  spread: number;
  parcels: number;
};

const mostSteps = 200;
const mostHalvings = 30;
const enough = 1e-10;

const expit = (logit: number) => (logit >= 0 ? 1 / (1 + Math.exp(-logit)) : 1 - 1 / (1 + Math.exp(logit)));
/** ln(1 + e^x) without overflow. */
const softplus = (x: number) => (x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x)));
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

type Row = { x: number; sent: number; dead: number };
type Fit = { a: number; b: number };

/** The expected information (X'WX) of intercept and slope. */
function informationAt(rows: readonly Row[], { a, b }: Fit) {
  const weights = rows.map(({ x, sent }) => {
    const p = expit(a + b * x);
    return sent * p * (1 - p);
  });
  const w = sum(weights);
  const wx = sum(rows.map(({ x }, i) => (weights[i] ?? 0) * x));
  const wxx = sum(rows.map(({ x }, i) => (weights[i] ?? 0) * x * x));
  return { weights, w, wx, wxx, det: w * wxx - wx * wx };
}

/** The logarithm of the likelihood, with Firth's penalty where that is asked for. */
function heightAt(rows: readonly Row[], fit: Fit, penalty: Penalty): number {
  const { det } = informationAt(rows, fit);
  const plain = sum(
    rows.map(({ x, sent, dead }) => dead * (fit.a + fit.b * x) - sent * softplus(fit.a + fit.b * x)),
  );
  return penalty === 'none' ? plain : plain + 0.5 * Math.log(Math.max(det, Number.MIN_VALUE));
}

/** One Newton step with the (modified) score; null where the information has vanished. */
function stepFrom(rows: readonly Row[], fit: Fit, penalty: Penalty): Fit | null {
  const { weights, w, wx, wxx, det } = informationAt(rows, fit);
  if (!(det > 1e-12 * w * wxx) || !Number.isFinite(det)) return null;
  let [scoreA, scoreB] = [0, 0];
  for (const [i, { x, sent, dead }] of rows.entries()) {
    const p = expit(fit.a + fit.b * x);
    const leverage = penalty === 'none' ? 0 : ((weights[i] ?? 0) * (wxx - 2 * wx * x + w * x * x)) / det;
    const residual = dead - sent * p + leverage * (0.5 - p);
    scoreA += residual;
    scoreB += residual * x;
  }
  return { a: (wxx * scoreA - wx * scoreB) / det, b: (w * scoreB - wx * scoreA) / det };
}

/** Goes up to the top of the likelihood; a step that would go down is halved. */
function climb(rows: readonly Row[], penalty: Penalty): Fit | null {
  let fit: Fit = { a: 0, b: 0 };
  let height = heightAt(rows, fit, penalty);
  for (let steps = 0; steps < mostSteps; steps += 1) {
    const step = stepFrom(rows, fit, penalty);
    if (!step) return null;
    // Far steps of the flat ends are held back: they would leave the likelihood's top behind.
    let share = Math.min(1, 5 / Math.max(Math.abs(step.a), Math.abs(step.b), 1e-300));
    let next = fit;
    for (let halvings = 0; halvings < mostHalvings; halvings += 1, share /= 2) {
      next = { a: fit.a + share * step.a, b: fit.b + share * step.b };
      if (heightAt(rows, next, penalty) >= height - 1e-12 * Math.abs(height)) break;
    }
    const moved = Math.max(Math.abs(next.a - fit.a), Math.abs(next.b - fit.b));
    fit = next;
    height = heightAt(rows, fit, penalty);
    if (moved < enough) return fit;
  }
  return null;
}

/** Pearson's chi-square over its degrees of freedom, never below 1. McCullagh and Nelder (1989), section 4.5. */
function spreadOf(rows: readonly Row[], { a, b }: Fit): number {
  const chi = sum(
    rows.map(({ x, sent, dead }) => {
      // Far out the curve is 0 or 1 to the last digit, where nothing is left to divide by.
      const p = Math.min(1 - 1e-12, Math.max(1e-12, expit(a + b * x)));
      return (dead - sent * p) ** 2 / (sent * p * (1 - p));
    }),
  );
  return rows.length > 2 ? Math.max(1, chi / (rows.length - 2)) : 1;
}

/**
 * How the share of animals that arrive dead depends on one temperature of the trip: a logistic regression on parcels.
 * Firth's penalty (Firth 1993, Biometrika 80, 27; Heinze and Schemper 2002, Statistics in Medicine 21, 2409) keeps it
 * finite when nothing died at all, or everything below one temperature and nothing above it. The animals of one parcel
 * share their fate, so standard errors are widened by what parcels differ more than chance would have it (quasi-binomial).
 * Null with fewer than three parcels, with all at one temperature, or (without the penalty) where no top is found.
 *
 * @example fitArrivals([{ tempC: 5, sent: 10, dead: 10 }, { tempC: 6, sent: 10, dead: 9 }, { tempC: 20, sent: 10, dead: 0 }])?.slopePerC
 * // about -0.41
 */
export function fitArrivals(arrivals: readonly Arrival[], penalty: Penalty = 'firth'): ArrivalCurve | null {
  const told = arrivals.filter(({ sent }) => sent > 0);
  if (told.length < 3) return null;
  const centreC = sum(told.map(({ tempC }) => tempC)) / told.length;
  const scaleC = Math.sqrt(sum(told.map(({ tempC }) => (tempC - centreC) ** 2)) / told.length);
  // Temperatures are computed to a tenth of a degree: what differs less is the same.
  if (!(scaleC > 0.01)) return null;
  const rows = told.map(({ tempC, sent, dead }) => ({ x: (tempC - centreC) / scaleC, sent, dead }));
  const fit = climb(rows, penalty);
  if (!fit) return null;
  const { w, wx, wxx, det } = informationAt(rows, fit);
  const spread = spreadOf(rows, fit);
  return {
    intercept: fit.a,
    slopePerC: fit.b / scaleC,
    centreC,
    covariance: {
      intercept: (spread * wxx) / det,
      slope: (spread * w) / det / scaleC ** 2,
      both: (-spread * wx) / det / scaleC,
    },
    spread,
    parcels: told.length,
  };
}

export type Range = { low: number; high: number };

const quantile = (curve: ArrivalCurve, level: number) => twoSidedT(level, Math.max(1, curve.parcels - 2));

/**
 * The expected share of dead animals at a temperature, with its interval (Student's t on the logit scale).
 *
 * @example lossAt(curve, 5) // { share: 0.12, low: 0.05, high: 0.26 }
 */
export function lossAt(curve: ArrivalCurve, tempC: number, level = 0.95): { share: number } & Range {
  const { intercept, slopePerC, centreC, covariance } = curve;
  const x = tempC - centreC;
  const logit = intercept + slopePerC * x;
  const error = Math.sqrt(
    Math.max(0, covariance.intercept + 2 * x * covariance.both + x * x * covariance.slope),
  );
  const wide = quantile(curve, level) * error;
  return { share: expit(logit), low: expit(logit - wide), high: expit(logit + wide) };
}

/**
 * The temperature at which the expected share passes `share`, with Fieller's interval (Fieller 1954; Finney 1971, Probit
 * Analysis, chapter 4). Null where the slope is not told from none at that level: then no temperature can be named.
 *
 * @example tempAtLoss(curve, 0.02) // { tempC: 7.3, low: 5.9, high: 9.1 }
 */
export function tempAtLoss(
  curve: ArrivalCurve,
  share: number,
  level = 0.95,
): ({ tempC: number } & Range) | null {
  const { intercept: a, slopePerC: b, centreC, covariance: v } = curve;
  const target = Math.log(share / (1 - share));
  const t2 = quantile(curve, level) ** 2;
  // All x with (a - target + b x)^2 <= t^2 Var(a + b x): between the roots of a quadratic, if it opens upwards.
  const q2 = b * b - t2 * v.slope;
  if (!(q2 > 0)) return null;
  const q1 = (a - target) * b - t2 * v.both;
  const q0 = (a - target) ** 2 - t2 * v.intercept;
  const root = Math.sqrt(Math.max(0, q1 * q1 - q2 * q0));
  return {
    tempC: centreC + (target - a) / b,
    low: centreC + (-q1 - root) / q2,
    high: centreC + (-q1 + root) / q2,
  };
}

/** When a curve is drawn at all; our own choice. */
export const curveNeeds = { parcels: 20, withLosses: 5, spanC: 4 } as const;

/**
 * What is still lacking before a curve means anything, or null. Parcels count, not animals: those of one parcel share
 * their fate.
 *
 * @example lackFor([]) // 'parcels'
 */
export function lackFor(arrivals: readonly Arrival[]): keyof typeof curveNeeds | null {
  if (arrivals.length < curveNeeds.parcels) return 'parcels';
  if (arrivals.filter(({ dead }) => dead > 0).length < curveNeeds.withLosses) return 'withLosses';
  const temps = arrivals.map(({ tempC }) => tempC);
  return Math.max(...temps) - Math.min(...temps) < curveNeeds.spanC ? 'spanC' : null;
}
