import type { Likelihood } from './likelihood.ts';
import {
  HALF_SQUARE,
  LEAST_SPREAD,
  LOW_POINT,
  logAlive,
  logExtinct,
  NEARLY_NIL,
  NIL,
  type Nodes,
  POINTS,
  STRIDE,
  shapeAt,
  UNIT,
  Z_REACH,
  Z_STEP,
} from './nodes.ts';

/** A product of fewer effective points than this is looked at more closely before it is trusted. */
const ENOUGH_POINTS = 5;
const MOST_LOOKS = 12;

const log = new Float64Array(POINTS);
const seen = new Float64Array(POINTS);
const fresh = new Float64Array(POINTS);

interface Look {
  from: number;
  step: number;
  /** The largest log of density times likelihood. */
  top: number;
  topAt: number;
  /** Sum of the products, and of their squares, relative to the largest. */
  sum: number;
  points: number;
  mean: number;
  sd: number;
}
const look: Look = { from: 0, step: 0, top: 0, topAt: 0, sum: 0, points: 0, mean: 0, sd: 0 };

/** Multiplies one node by what a count says (Bayes), and its weight by how well it foresaw the count. */
export function observe(nodes: Nodes, node: number, likelihood: Likelihood): void {
  const odds = nodes.alive[node]!;
  const dead = logExtinct(odds) + likelihood.extinct;
  let live = Number.NEGATIVE_INFINITY;
  if (odds !== Number.NEGATIVE_INFINITY) live = logAlive(odds) + observeAlive(nodes, node, likelihood);
  const top = Math.max(dead, live);
  if (top === Number.NEGATIVE_INFINITY) {
    nodes.logWeight[node] = Number.NEGATIVE_INFINITY;
    return;
  }
  const total = top + Math.log(Math.exp(dead - top) + Math.exp(live - top));
  nodes.logWeight[node] = nodes.logWeight[node]! + total;
  nodes.alive[node] = dead === Number.NEGATIVE_INFINITY ? Number.POSITIVE_INFINITY : live - dead;
}

/** Updates the distribution of x while alive and answers the log of the likelihood's mean over it. */
function observeAlive(nodes: Nodes, node: number, likelihood: Likelihood): number {
  const base = node * POINTS;
  const center = nodes.center[node]!;
  const spread = nodes.spread[node]!;
  const { shape } = nodes;
  const from = center - spread * Z_REACH;
  likelihood.fill(seen, from, spread * Z_STEP);
  for (let k = 0; k < POINTS; k += 1) log[k] = shape[base + k]! - HALF_SQUARE[k]! + seen[k]!;
  const cutOff = shape[base + LOW_POINT]! < NEARLY_NIL;
  measure(from, spread * Z_STEP, cutOff ? 1 : STRIDE);
  if (Math.abs(look.mean - center) < 0.4 * spread && look.sd > 0.75 * spread && look.sd < 1.1 * spread) {
    // Much the same distribution as before: the same grid still fits.
    const norm = Math.log(look.sum * UNIT) + look.top;
    for (let k = 0; k < POINTS; k += 1) {
      const value = shape[base + k]! + seen[k]! - norm;
      shape[base + k] = Math.max(value, NIL);
    }
    return norm;
  }
  measure(from, spread * Z_STEP, 1);
  if (look.top === Number.NEGATIVE_INFINITY && !search(nodes, node, likelihood)) {
    return Number.NEGATIVE_INFINITY;
  }
  const resolved = look.points >= ENOUGH_POINTS && look.topAt > 0 && look.topAt < POINTS - 1;
  if (!resolved) closeIn(nodes, node, likelihood);
  return rewrite(nodes, node, likelihood);
}

/** Where the product in `log` lies, by each stride-th of the points from, from + step, ... */
function measure(from: number, step: number, stride: number): void {
  let top = Number.NEGATIVE_INFINITY;
  let topAt = 0;
  const offset = stride >> 1;
  for (let k = offset; k < POINTS; k += stride) {
    if (log[k]! > top) {
      top = log[k]!;
      topAt = k;
    }
  }
  look.from = from;
  look.step = step;
  look.top = top;
  look.topAt = topAt;
  look.sd = 0;
  if (top === Number.NEGATIVE_INFINITY) return;
  let sum = 0;
  let squares = 0;
  let first = 0;
  let second = 0;
  for (let k = offset; k < POINTS; k += stride) {
    const v = Math.exp(log[k]! - top);
    sum += v;
    squares += v * v;
    first += v * k;
    second += v * k * k;
  }
  const mean = first / sum;
  look.sum = sum * stride;
  look.points = (stride * sum * sum) / squares;
  look.mean = from + step * mean;
  look.sd = step * Math.sqrt(Math.max(0, second / sum - mean * mean));
}

/** Evaluates the product on another window. */
function lookAt(nodes: Nodes, node: number, likelihood: Likelihood, from: number, step: number): void {
  const center = nodes.center[node]!;
  const spread = nodes.spread[node]!;
  likelihood.fill(seen, from, step);
  for (let k = 0; k < POINTS; k += 1) {
    const z = (from + k * step - center) / spread;
    log[k] = shapeAt(nodes.shape, node * POINTS, z) - 0.5 * z * z + seen[k]!;
  }
  measure(from, step, 1);
}

/** Nothing on the node's own grid explains the count: looks farther out, in both directions. */
function search(nodes: Nodes, node: number, likelihood: Likelihood): boolean {
  const center = nodes.center[node]!;
  let reach = nodes.spread[node]! * Z_REACH;
  for (let tries = 0; tries < 3 && look.top === Number.NEGATIVE_INFINITY; tries += 1) {
    reach *= 3;
    lookAt(nodes, node, likelihood, center - reach, (2 * reach) / (POINTS - 1));
  }
  return look.top > Number.NEGATIVE_INFINITY;
}

/** Moves and narrows the window until the product is well inside it and spread over enough points. */
function closeIn(nodes: Nodes, node: number, likelihood: Likelihood): void {
  for (let looks = 0; looks < MOST_LOOKS; looks += 1) {
    const atEdge = look.topAt === 0 || look.topAt === POINTS - 1;
    if (!atEdge && look.points >= ENOUGH_POINTS) return;
    const peak = look.from + look.topAt * look.step;
    const half = atEdge ? 0.5 * look.step * (POINTS - 1) : 3 * look.step;
    if (half < LEAST_SPREAD) return;
    lookAt(nodes, node, likelihood, peak - half, (2 * half) / (POINTS - 1));
  }
}

/** Writes the product on a grid of its own, from the old density and the likelihood at its new points. */
function rewrite(nodes: Nodes, node: number, likelihood: Likelihood): number {
  const base = node * POINTS;
  const oldCenter = nodes.center[node]!;
  const oldSpread = nodes.spread[node]!;
  const center = look.mean;
  const spread = Math.max(look.sd, LEAST_SPREAD);
  const from = center - spread * Z_REACH;
  const step = spread * Z_STEP;
  likelihood.fill(seen, from, step);
  let top = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < POINTS; k += 1) {
    const z = (from + k * step - oldCenter) / oldSpread;
    const value = shapeAt(nodes.shape, base, z) - 0.5 * z * z + seen[k]!;
    fresh[k] = value;
    if (value > top) top = value;
  }
  if (top === Number.NEGATIVE_INFINITY) return top;
  let sum = 0;
  for (let k = 0; k < POINTS; k += 1) sum += Math.exp(fresh[k]! - top);
  const norm = Math.log(sum * UNIT) + top;
  for (let k = 0; k < POINTS; k += 1) {
    nodes.shape[base + k] = Math.max(NIL, fresh[k]! + HALF_SQUARE[k]! - norm);
  }
  nodes.center[node] = center;
  nodes.spread[node] = spread;
  return norm + Math.log(spread / oldSpread);
}
