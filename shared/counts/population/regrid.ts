import { coordinate, coordinateOn, lineOf, logSlopeOn, valueOn } from './axis.ts';
import {
  type Lattice,
  logWeightAt,
  makeStencil,
  rAxisBetween,
  rAxisOf,
  SPAN,
  stencilAt,
  valueAt,
} from './lattice.ts';
import { makeNodes, NEARLY_NIL, NIL, type Nodes, POINTS } from './nodes.ts';

/** Log odds beyond this are as good as certain; keeps infinite ones out of sums. */
const CERTAIN = 80;
/** Log weights (the largest is 0) below this are all one. */
const LEAST_LOG = -300;

const rowStencil = makeStencil();
const columnStencil = makeStencil();
const AROUND = SPAN * SPAN;
const weights = new Float64Array(AROUND);
const places = new Int32Array(AROUND);

/**
 * Carries what is known at the nodes of one lattice over to another: log weights, and center, spread and
 * shape of log N in standard units, all by interpolation.
 */
export function carryOver(from: Lattice, nodes: Nodes, to: Lattice): Nodes {
  const fresh = makeNodes(nodes.count);
  const log = nodes.logWeight.map((w) => Math.max(LEAST_LOG, w));
  const logSpread = nodes.spread.map(Math.log);
  for (let i = 0; i < to.rows; i += 1) {
    const newU = coordinate(to.rows, i);
    const u = coordinateOn(from.k, valueOn(to.k, newU));
    const rowGain = logSlopeOn(to.k, newU) - logSlopeOn(from.k, u);
    stencilAt(rowStencil, from.rows, lineOf(from.rows, u));
    const oldAxis = rAxisBetween(from, rowStencil);
    const newAxis = rAxisOf(to, i);
    for (let j = 0; j < to.columns; j += 1) {
      const newV = coordinate(to.columns, j);
      const v = coordinateOn(oldAxis, valueOn(newAxis, newV));
      const gain = rowGain + logSlopeOn(newAxis, newV) - logSlopeOn(oldAxis, v);
      stencilAt(columnStencil, from.columns, lineOf(from.columns, v));
      const node = i * to.columns + j;
      gather(from);
      fresh.logWeight[node] = logWeightAt(from, log, rowStencil, columnStencil) + gain;
      fresh.center[node] = valueAt(from, nodes.center, rowStencil, columnStencil, 1);
      fresh.spread[node] = Math.exp(valueAt(from, logSpread, rowStencil, columnStencil, 0));
      fresh.alive[node] = mixOdds(nodes.alive);
      mixShape(nodes.shape, fresh.shape, node * POINTS);
    }
  }
  return fresh;
}

/** The weights of the nodes around a place. */
function gather(from: Lattice): void {
  for (let p = 0; p < SPAN; p += 1) {
    const row = Math.min(from.rows - 1, rowStencil.first + p);
    for (let q = 0; q < SPAN; q += 1) {
      const column = Math.min(from.columns - 1, columnStencil.first + q);
      weights[SPAN * p + q] = rowStencil.weights[p]! * columnStencil.weights[q]!;
      places[SPAN * p + q] = row * from.columns + column;
    }
  }
}

/** Log odds between certain ones are mixed within bounds; where all around are certain, so is the result. */
function mixOdds(alive: Float64Array): number {
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < AROUND; n += 1) {
    if (weights[n] === 0) continue;
    const odds = alive[places[n]!]!;
    least = Math.min(least, odds);
    most = Math.max(most, odds);
    sum += weights[n]! * Math.min(CERTAIN, Math.max(-CERTAIN, odds));
  }
  if (least === most) return least;
  // Never beyond what stands around: a cubic may swing over.
  const odds = Math.min(most, Math.max(least, sum));
  return odds >= CERTAIN - 1
    ? Number.POSITIVE_INFINITY
    : odds <= 1 - CERTAIN
      ? Number.NEGATIVE_INFINITY
      : odds;
}

function mixShape(shape: Float64Array, out: Float64Array, base: number): void {
  for (let k = 0; k < POINTS; k += 1) {
    let sum = 0;
    let least = 0;
    for (let n = 0; n < AROUND; n += 1) {
      const value = shape[places[n]! * POINTS + k]!;
      sum += weights[n]! * value;
      if (value < least && weights[n] !== 0) least = value;
    }
    // Across a sharp edge a cubic would swing over: average without negative weights instead.
    out[base + k] = least < NEARLY_NIL ? mixPositive(shape, k) : Math.max(NIL, sum);
  }
}

function mixPositive(shape: Float64Array, k: number): number {
  let sum = 0;
  let total = 0;
  for (let n = 0; n < AROUND; n += 1) {
    const w = Math.max(0, weights[n]!);
    sum += w * shape[places[n]! * POINTS + k]!;
    total += w;
  }
  return sum / total;
}
