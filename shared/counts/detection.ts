import { CalculationError } from '../faults.ts';
import { logBeta, logChoose, logSumExp } from '../numbers/log-gamma.ts';
import { normalQuantile } from '../numbers/normal.ts';

/** A visible count and the full count that followed it. */
export type DetectionPair = {
  /** Animals seen without digging. */
  seen: number;
  /** All of them, counted soon after. */
  counted: number;
  /** How well that is known: the standard deviation of the logarithm of the number that was there. */
  relativeSd: number;
};

export type DetectionInput = {
  /** What is believed of the share that shows at a visit: p ~ Beta(alpha, beta). */
  detection: { alpha: number; beta: number };
  /** How many visits that belief rests on, at least 3. */
  visits: number;
  pairs: readonly DetectionPair[];
};

export type DetectionUpdate = { detection: { alpha: number; beta: number }; visits: number };

/** A belief that nobody has tested yet is taken for what a few visits would tell: common practice, no source. */
export const untestedVisits = 4;

const meanSteps = 60;
const spreadSteps = 24;
const sizeNodes = 7;

type Point = { m: number; k: number; logWeight: number };

/**
 * What pairs of counts teach about the share of the animals that shows.
 *
 * The share differs from visit to visit: p ~ Beta(m k, (1 - m) k), where m is the species' mean share and k says how
 * alike its visits are. A pair is one visit, however many animals were there: taking its animals for as many tries
 * would make the belief far too sure. So m and k are themselves uncertain, and the pairs are weighed under
 * seen ~ Beta-binomial(N, m k, (1 - m) k) with log N ~ Normal(log counted, relativeSd) (the hierarchical beta-binomial
 * of Gelman et al., Bayesian Data Analysis, chapter 5; from memory). The prior: m ~ Beta with the variance of a mean of
 * `visits` visits, k log-normal with sdLog = sqrt(2 / (visits - 1)), about what so many visits tell of a variance, its
 * median such that without a pair the share at the next visit has the mean and variance of the belief: no news, no
 * change. The answer is the Beta with the mean and variance of the share at the next visit.
 *
 * Shares and alpha, beta without a unit. Errors: a pair in which clearly more were seen than there were; an empty count.
 *
 * @example updateDetection({ detection: { alpha: 6, beta: 14 }, visits: 4, pairs: [] }).detection // alpha 6, beta 14
 */
export function updateDetection({ detection, visits, pairs }: DetectionInput): DetectionUpdate {
  if (pairs.length === 0) return { detection, visits };
  for (const [index, pair] of pairs.entries()) checkPair(pair, index);
  const points = priorPoints(detection, visits, pairs);
  for (const pair of pairs) {
    const sizes = sizesOf(pair);
    for (const point of points) point.logWeight += logLikelihood(pair.seen, sizes, point);
  }
  const total = logSumExp(points.map(({ logWeight }) => logWeight));
  if (!Number.isFinite(total)) throw new CalculationError('do not fit any share', 'pairs');
  let mean = 0;
  let square = 0;
  for (const { m, k, logWeight } of points) {
    const weight = Math.exp(logWeight - total);
    mean += weight * m;
    // E[p^2] of a beta: its variance m (1 - m) / (k + 1), and its mean squared
    square += weight * ((m * (1 - m)) / (k + 1) + m * m);
  }
  const alike = (mean * (1 - mean)) / (square - mean * mean) - 1;
  return {
    detection: { alpha: mean * alike, beta: (1 - mean) * alike },
    visits: visits + pairs.length,
  };
}

function checkPair({ seen, counted, relativeSd }: DetectionPair, index: number) {
  const path = `pairs[${index}]`;
  if (counted <= 0) throw new CalculationError('has no animals in it, so it says nothing of a share', path);
  if (Math.log(seen / counted) > 2 * relativeSd)
    throw new CalculationError('has more animals seen than there were', path);
}

/** The points of the grid over the mean share and the likeness of visits, with the logarithm of their prior weights. */
function priorPoints(
  { alpha, beta }: DetectionInput['detection'],
  visits: number,
  pairs: readonly DetectionPair[],
): Point[] {
  const mean = alpha / (alpha + beta);
  const variance = (mean * (1 - mean)) / (alpha + beta + 1);
  const meanVariance = variance / (visits + 1);
  const sure = (mean * (1 - mean)) / meanVariance - 1;
  const sdLog = Math.sqrt(2 / (Math.max(3, visits) - 1));
  const shares = pairs.map(({ seen, counted }) => Math.min(1, seen / counted));
  const wide = 6 * Math.sqrt(meanVariance);
  const low = Math.max(0, Math.min(mean - wide, ...shares));
  const high = Math.min(1, Math.max(mean + wide, ...shares));
  const zs = Array.from({ length: spreadSteps }, (_, i) => normalQuantile((i + 0.5) / spreadSteps));
  const inverse = (variance - meanVariance) / (mean * (1 - mean) - meanVariance);
  const median = likenessFor(inverse, zs, sdLog);
  return Array.from({ length: meanSteps }, (_, i) => low + ((high - low) * (i + 0.5)) / meanSteps).flatMap(
    (m) =>
      zs.map((z) => ({
        m,
        k: median * Math.exp(sdLog * z),
        logWeight: (mean * sure - 1) * Math.log(m) + ((1 - mean) * sure - 1) * Math.log1p(-m),
      })),
  );
}

/** The median of k at which the mean of 1 / (k + 1) is as wanted, by halving; it falls as the median grows. */
function likenessFor(wanted: number, zs: readonly number[], sdLog: number): number {
  let [low, high] = [-12, 20];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    const mean = zs.reduce((sum, z) => sum + 1 / (Math.exp(middle + sdLog * z) + 1), 0) / zs.length;
    if (mean > wanted) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/** Equally likely numbers of animals that the full count may have been made of, none below those that were seen. */
function sizesOf({ seen, counted, relativeSd }: DetectionPair): { size: number; logWays: number }[] {
  return Array.from({ length: sizeNodes }, (_, i) => {
    const size = Math.max(seen, counted * Math.exp(relativeSd * normalQuantile((i + 0.5) / sizeNodes)));
    return { size, logWays: logChoose(size, seen) };
  });
}

function logLikelihood(seen: number, sizes: ReturnType<typeof sizesOf>, { m, k }: Point): number {
  const [a, b] = [m * k, (1 - m) * k];
  const none = logBeta(a, b);
  return logSumExp(sizes.map(({ size, logWays }) => logWays + logBeta(seen + a, size - seen + b) - none));
}
