import { cutExtinct, grow } from './grow.ts';
import {
  HALF_SQUARE,
  LEAST_SPREAD,
  LOG_HALF,
  LOW_POINT,
  logAlive,
  NEARLY_NIL,
  type Nodes,
  POINTS,
  STRIDE,
  shapeAt,
  writeDensity,
  writeNormal,
  Z,
  Z_REACH,
  Z_STEP,
} from './nodes.ts';

const density = new Float64Array(POINTS);

/** Takes an exact number of animals out of one node's colony; what falls below half an animal is extinct. */
export function remove(nodes: Nodes, node: number, animals: number): void {
  if (animals === 0 || nodes.alive[node] === Number.NEGATIVE_INFINITY) return;
  const left = moments(nodes, node, -animals);
  const odds = nodes.alive[node]!;
  if (left.share < 1e-12) {
    nodes.alive[node] = Number.NEGATIVE_INFINITY;
    return;
  }
  if (left.share < 1) {
    const live = logAlive(odds) + Math.log(left.share);
    nodes.alive[node] = live - Math.log1p(-Math.exp(live));
  }
  place(nodes, node, -animals, left.mean, left.sd);
}

/** Puts an exact number of animals into one node's colony; an extinct colony starts again from them. */
export function add(nodes: Nodes, node: number, animals: number): void {
  if (animals === 0) return;
  const fresh = Math.log(animals);
  const odds = nodes.alive[node]!;
  const shareAlive = Math.exp(logAlive(odds));
  nodes.alive[node] = Number.POSITIVE_INFINITY;
  if (shareAlive < 1e-12) {
    writeNormal(nodes, node, fresh, LEAST_SPREAD);
    return;
  }
  const grown = moments(nodes, node, animals);
  const shareFresh = 1 - shareAlive;
  if (shareFresh < 1e-12) {
    place(nodes, node, animals, grown.mean, grown.sd);
    return;
  }
  const mean = shareAlive * grown.mean + shareFresh * fresh;
  const variance = shareAlive * (grown.sd ** 2 + (grown.mean - mean) ** 2) + shareFresh * (fresh - mean) ** 2;
  // The grid must reach both the restarted colony and the living one, however unlikely either is.
  const far = Math.max(Math.abs(grown.mean - mean) + 3 * grown.sd, Math.abs(fresh - mean)) / (Z_REACH - 0.4);
  const sd = Math.max(Math.sqrt(variance), far, LEAST_SPREAD);
  place(nodes, node, animals, mean, sd);
  addBump(nodes, node, fresh, shareFresh);
}

/** Multiplies by a survival whose logarithm is normal; then counts the dead colonies. */
export function dieOff(nodes: Nodes, node: number, logMedian: number, sdLog: number): void {
  nodes.center[node] = nodes.center[node]! + logMedian;
  if (sdLog > 0) grow(nodes, node, 0, 0, sdLog);
  cutExtinct(nodes, node);
}

/** Mean and sd of log(N + change), and the share of the living that has at least half an animal left. */
function moments(nodes: Nodes, node: number, change: number): { mean: number; sd: number; share: number } {
  const base = node * POINTS;
  const center = nodes.center[node]!;
  const spread = nodes.spread[node]!;
  const edge = change < 0 ? ((Math.log(0.5 - change) - center) / spread + Z_REACH) / Z_STEP : -1;
  let all = 0;
  let live = 0;
  let first = 0;
  let second = 0;
  // Far above the edge each third point is enough, as for growth.
  const stride = edge < -1 && nodes.shape[base + LOW_POINT]! > NEARLY_NIL ? STRIDE : 1;
  for (let k = stride >> 1; k < POINTS; k += stride) {
    const w = Math.exp(nodes.shape[base + k]! - HALF_SQUARE[k]!);
    const above = Math.min(1, Math.max(0, k + 0.5 - edge));
    all += w;
    if (above === 0) continue;
    // A point just below the edge stands for the part of its cell above it.
    const x = Math.log(Math.max(0.5, Math.exp(center + spread * Z[k]!) + change));
    live += above * w;
    first += above * w * x;
    second += above * w * x * x;
  }
  if (live <= 0) return { mean: LOG_HALF, sd: LEAST_SPREAD, share: 0 };
  const mean = first / live;
  const sd = Math.max(LEAST_SPREAD, Math.sqrt(Math.max(0, second / live - mean * mean)));
  return { mean, sd, share: edge < -0.5 ? 1 : live / all };
}

/** Rewrites the node's density for log(N + change) on a grid with the given center and spread. */
function place(nodes: Nodes, node: number, change: number, center: number, spread: number): void {
  const base = node * POINTS;
  const oldCenter = nodes.center[node]!;
  const oldSpread = nodes.spread[node]!;
  let any = 0;
  let next = Math.exp(center - spread * Z_REACH);
  const factor = Math.exp(spread * Z_STEP);
  for (let k = 0; k < POINTS; k += 1) {
    const x = center + spread * Z[k]!;
    const after = next;
    const before = after - change;
    next *= factor;
    density[k] = 0;
    if (before <= 0 || x < LOG_HALF) continue;
    const z = (Math.log(before) - oldCenter) / oldSpread;
    if (z < -8 || z > 8) continue;
    const value = Math.exp(shapeAt(nodes.shape, base, z) - 0.5 * z * z) * (after / before);
    density[k] = value;
    any += value;
  }
  if (any > 0) {
    nodes.center[node] = center;
    nodes.spread[node] = spread;
    writeDensity(nodes, node, density);
  } else writeNormal(nodes, node, center, spread);
}

/** Mixes a narrow peak of the given share, at log N = x, into a node's density; it is as narrow as the grid. */
function addBump(nodes: Nodes, node: number, x: number, share: number): void {
  const base = node * POINTS;
  const at = (x - nodes.center[node]!) / nodes.spread[node]!;
  let grown = 0;
  let bump = 0;
  for (let k = 0; k < POINTS; k += 1) {
    density[k] = Math.exp(nodes.shape[base + k]! - HALF_SQUARE[k]!);
    grown += density[k]!;
    const gap = (Z[k]! - at) / (0.9 * Z_STEP);
    bump += Math.exp(-0.5 * gap * gap);
  }
  for (let k = 0; k < POINTS; k += 1) {
    const gap = (Z[k]! - at) / (0.9 * Z_STEP);
    density[k] = ((1 - share) * density[k]!) / grown + (share * Math.exp(-0.5 * gap * gap)) / bump;
  }
  writeDensity(nodes, node, density);
}
