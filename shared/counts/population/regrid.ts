import { logSumExp } from '../../numbers/log-gamma.ts';
import {
  coordinate,
  type Lattice,
  lineOf,
  logRAt,
  logWeightAt,
  makeStencil,
  stencilAt,
  weighed,
} from './lattice.ts';
import { makeNodes, NEARLY_NIL, NIL, type Nodes, POINTS } from './nodes.ts';

/** Log odds beyond this are as good as certain; keeps infinite ones out of sums. */
const CERTAIN = 80;

const rowStencil = makeStencil();
const columnStencil = makeStencil();
const weights = new Float64Array(16);
const places = new Int32Array(16);

/**
 * Carries what is known at the nodes of one lattice over to another: log weights as a normal surface times
 * a smooth rest, center, spread and shape of log N by bicubic interpolation in standard units.
 */
export function carryOver(from: Lattice, nodes: Nodes, to: Lattice): Nodes {
  const fresh = makeNodes(nodes.count);
  const surface = surfaceOf(from, nodes.logWeight);
  const rest = restOf(from, nodes, surface);
  const logScale = from.rScale.map(Math.log);
  const logSpread = nodes.spread.map(Math.log);
  for (let i = 0; i < to.rows; i += 1) {
    const logK = to.kCenter + to.kScale * coordinate(to.rows, i);
    const u = from.rows === 1 ? 0 : (logK - from.kCenter) / from.kScale;
    stencilAt(rowStencil, from.rows, lineOf(from.rows, u));
    const center = weighed(rowStencil, from.rCenter);
    const scale = Math.exp(weighed(rowStencil, logScale));
    for (let j = 0; j < to.columns; j += 1) {
      const v = from.columns === 1 ? 0 : (logRAt(to, i, j) - center) / scale;
      stencilAt(columnStencil, from.columns, lineOf(from.columns, v));
      const node = i * to.columns + j;
      gather(from);
      fresh.logWeight[node] =
        logWeightAt(from, rest, rowStencil, columnStencil) +
        heightAt(surface, u, v) +
        Math.log(to.rScale[i]! / scale);
      fresh.center[node] = mix(nodes.center);
      fresh.spread[node] = Math.exp(mix(logSpread));
      fresh.alive[node] = mixOdds(nodes.alive);
      mixShape(nodes.shape, fresh.shape, node * POINTS);
    }
  }
  return fresh;
}

/** The weights of the up to sixteen nodes around a place. */
function gather(from: Lattice): void {
  for (let p = 0; p < 4; p += 1) {
    const row = Math.min(from.rows - 1, rowStencil.first + p);
    for (let q = 0; q < 4; q += 1) {
      const column = Math.min(from.columns - 1, columnStencil.first + q);
      weights[4 * p + q] = rowStencil.weights[p]! * columnStencil.weights[q]!;
      places[4 * p + q] = row * from.columns + column;
    }
  }
}

function mix(values: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < 16; n += 1) sum += weights[n]! * values[places[n]!]!;
  return sum;
}

/** Log odds between certain ones are mixed within bounds; where all around are certain, so is the result. */
function mixOdds(alive: Float64Array): number {
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < 16; n += 1) {
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
    for (let n = 0; n < 16; n += 1) {
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
  for (let n = 0; n < 16; n += 1) {
    const w = Math.max(0, weights[n]!);
    sum += w * shape[places[n]! * POINTS + k]!;
    total += w;
  }
  return sum / total;
}

/** What is left of the log weights when a normal surface with the same moments is taken off. */
function restOf(lattice: Lattice, nodes: Nodes, surface: Surface): Float64Array {
  const rest = new Float64Array(nodes.count);
  let top = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < nodes.count; n += 1) top = Math.max(top, nodes.logWeight[n]!);
  for (let i = 0; i < lattice.rows; i += 1) {
    for (let j = 0; j < lattice.columns; j += 1) {
      const n = i * lattice.columns + j;
      const height = heightAt(surface, coordinate(lattice.rows, i), coordinate(lattice.columns, j));
      rest[n] = Math.max(nodes.logWeight[n]! - top, -200) - height;
    }
  }
  return rest;
}

/** A normal surface over the standard coordinates. */
interface Surface {
  kMean: number;
  kSd: number;
  rMean: number;
  rSd: number;
}

/** With the moments of the weights, in both directions. */
function surfaceOf(lattice: Lattice, logWeight: Float64Array): Surface {
  const all = logSumExp(logWeight);
  const sums = [0, 0, 0, 0];
  for (let n = 0; n < logWeight.length; n += 1) {
    const w = Math.exp(logWeight[n]! - all);
    const u = coordinate(lattice.rows, Math.floor(n / lattice.columns));
    const v = coordinate(lattice.columns, n % lattice.columns);
    [w * u, w * u * u, w * v, w * v * v].forEach((term, i) => {
      sums[i] = sums[i]! + term;
    });
  }
  const [kMean, kSquare, rMean, rSquare] = sums as [number, number, number, number];
  const sd = (mean: number, square: number) => Math.max(0.3, Math.sqrt(Math.max(0, square - mean * mean)));
  return { kMean, kSd: sd(kMean, kSquare), rMean, rSd: sd(rMean, rSquare) };
}

function heightAt(surface: Surface, u: number, v: number): number {
  const k = (u - surface.kMean) / surface.kSd;
  const r = (v - surface.rMean) / surface.rSd;
  return -0.5 * (k * k + r * r);
}
