/**
 * What the filter knows at each node of the lattice of (log K, log r): how likely the node is, how likely
 * the colony is alive there, and the distribution of x = log N while it lives.
 *
 * The distribution of x is kept in standard units z = (x - center) / spread on a grid that all nodes
 * share. `shape` is the logarithm of its density divided by a standard normal density, so that a normal
 * distribution is all zeros, interpolation works on small smooth numbers, and beyond the grid the tail
 * simply goes on as a normal tail.
 */
export interface Nodes {
  readonly count: number;
  /** Log of the node's share of the posterior, up to a common constant. */
  readonly logWeight: Float64Array;
  /** Log odds of alive against extinct; +Infinity is surely alive, -Infinity surely extinct. */
  readonly alive: Float64Array;
  readonly center: Float64Array;
  readonly spread: Float64Array;
  /** POINTS values a node, node after node. */
  readonly shape: Float64Array;
}

export const POINTS = 40;
export const Z_REACH = 5;
export const Z_STEP = (2 * Z_REACH) / (POINTS - 1);
/** The spread of a number that is known exactly, so that a grid still has a width. */
export const LEAST_SPREAD = 1e-5;
/** `shape` where the density is nil. */
export const NIL = -30;
/** Under this a shape value belongs to a cut-off part and must not be joined by a smooth curve. */
export const NEARLY_NIL = -20;
/** A low point, z = -4: where the shape is nil there, the distribution has been cut off at extinction. */
export const LOW_POINT = 4;
/** Each third point of a smooth distribution is enough for its sum and moments. */
export const STRIDE = 3;
/** A colony of fewer than half an animal is extinct. */
export const LOG_HALF = Math.log(0.5);
/** A density sums to one when sum exp(shape - z^2 / 2) * UNIT is one. */
export const UNIT = Z_STEP / Math.sqrt(2 * Math.PI);

export const Z = Float64Array.from({ length: POINTS }, (_, k) => -Z_REACH + k * Z_STEP);
export const HALF_SQUARE = Z.map((z) => 0.5 * z * z);

export function makeNodes(count: number): Nodes {
  return {
    count,
    logWeight: new Float64Array(count),
    alive: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
    center: new Float64Array(count),
    spread: new Float64Array(count),
    shape: new Float64Array(count * POINTS),
  };
}

export function copyNodes(nodes: Nodes): Nodes {
  return {
    count: nodes.count,
    logWeight: nodes.logWeight.slice(),
    alive: nodes.alive.slice(),
    center: nodes.center.slice(),
    spread: nodes.spread.slice(),
    shape: nodes.shape.slice(),
  };
}

/** The shape at z of the node whose values start at `base`: cubic (Lagrange), constant beyond the grid. */
export function shapeAt(shape: Float64Array, base: number, z: number): number {
  const t = (z + Z_REACH) / Z_STEP;
  if (t <= 0) return shape[base]!;
  if (t >= POINTS - 1) return shape[base + POINTS - 1]!;
  const k = t | 0;
  const f = t - k;
  const at = base + k;
  const b = shape[at]!;
  const c = shape[at + 1]!;
  if (k === 0 || k === POINTS - 2) return b + f * (c - b);
  const a = shape[at - 1]!;
  const d = shape[at + 2]!;
  // At a sharp edge (a colony cut off at extinction) a cubic would swing far over; a straight line does not.
  if (a < NEARLY_NIL || b < NEARLY_NIL || c < NEARLY_NIL || d < NEARLY_NIL) return b + f * (c - b);
  const e = 1 - f;
  return e * b + f * c - (f * e * ((1 + e) * (a - 2 * b + c) + (1 + f) * (b - 2 * c + d))) / 6;
}

/** Writes a density known up to a factor (values at the grid's points) as the node's shape. */
export function writeDensity(nodes: Nodes, node: number, density: Float64Array): void {
  const base = node * POINTS;
  let sum = 0;
  for (let k = 0; k < POINTS; k += 1) sum += density[k]!;
  const logSum = Math.log(sum * UNIT);
  for (let k = 0; k < POINTS; k += 1) {
    const value = density[k]!;
    const shape = value > 0 ? Math.log(value) + HALF_SQUARE[k]! - logSum : NIL;
    nodes.shape[base + k] = Math.max(NIL, shape);
  }
}

/** Makes the node's distribution of log N normal. */
export function writeNormal(nodes: Nodes, node: number, center: number, spread: number): void {
  nodes.center[node] = center;
  nodes.spread[node] = Math.max(spread, LEAST_SPREAD);
  nodes.shape.fill(0, node * POINTS, (node + 1) * POINTS);
}

/** log P(alive) and log P(extinct) from the log odds, without loss at either end. */
export function logAlive(odds: number): number {
  if (odds === Number.POSITIVE_INFINITY) return 0;
  return odds > 0 ? -Math.log1p(Math.exp(-odds)) : odds - Math.log1p(Math.exp(odds));
}

export function logExtinct(odds: number): number {
  return logAlive(-odds);
}
