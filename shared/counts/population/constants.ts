import { type Axis, coordinate, valueOn } from './axis.ts';
import { type Lattice, logWeightAt, makeStencil, rAxisBetween, stencilAt } from './lattice.ts';
import { weightsOf } from './mixture.ts';
import type { Band } from './outlook.ts';
import type { PopulationState } from './state.ts';

/** r^r K^k: a growth rate (1, 0), a capacity (0, 1), four times the sustainable yield (1, 1). */
export interface Powers {
  readonly r: number;
  readonly k: number;
}

/** Each cell of the lattice is cut into so many pieces each way, with the weights interpolated. */
const PARTS = 4;
const MOST_HALVINGS = 60;

/** A logarithm's distribution as weighted pieces, each spread evenly over its own width. */
interface Pieces {
  readonly middle: Float64Array;
  readonly half: Float64Array;
  readonly weight: Float64Array;
}

/** The posterior of a product of powers of r and K: median and equal-tailed interval. */
export function constantsOf(state: PopulationState, powers: Powers, level: number): Band {
  const pieces = piecesOf(state.lattice, Float64Array.from(state.nodes.logWeight), powers);
  const tail = (1 - level) / 2;
  return {
    median: quantileOf(pieces, 0.5),
    lower: quantileOf(pieces, tail),
    upper: quantileOf(pieces, 1 - tail),
  };
}

function piecesOf(lattice: Lattice, logWeight: Float64Array, powers: Powers): Pieces {
  const rowParts = lattice.rows === 1 ? 1 : PARTS;
  const columnParts = lattice.columns === 1 ? 1 : PARTS;
  const columns = lattice.columns * columnParts;
  const count = lattice.rows * rowParts * columns;
  const pieces = {
    middle: new Float64Array(count),
    half: new Float64Array(count),
    weight: new Float64Array(count),
  };
  const log = weightsOf(logWeight).map((w) => Math.max(-60, Math.log(w)));
  const rowStencil = makeStencil();
  const columnStencil = makeStencil();
  let total = 0;
  for (let n = 0; n < count; n += 1) {
    const a = (Math.floor(n / columns) + 0.5) / rowParts - 0.5;
    const b = ((n % columns) + 0.5) / columnParts - 0.5;
    stencilAt(rowStencil, lattice.rows, a);
    stencilAt(columnStencil, lattice.columns, b);
    const logK = pieceOn(lattice.k, lattice.rows, a, rowParts);
    const logR = pieceOn(rAxisBetween(lattice, rowStencil), lattice.columns, b, columnParts);
    pieces.middle[n] = powers.r * logR.middle + powers.k * logK.middle;
    pieces.half[n] = Math.hypot(powers.r * logR.half, powers.k * logK.half);
    pieces.weight[n] = Math.exp(logWeightAt(lattice, log, rowStencil, columnStencil));
    total += pieces.weight[n]!;
  }
  for (let n = 0; n < count; n += 1) pieces.weight[n] = pieces.weight[n]! / total;
  return pieces;
}

/** Middle and half width of the piece of an axis around a (fractional) line; a single line has no width. */
function pieceOn(axis: Axis, lines: number, line: number, parts: number): { middle: number; half: number } {
  if (lines === 1) return { middle: axis.center, half: 0 };
  const low = valueOn(axis, coordinate(lines, line - 0.5 / parts));
  const high = valueOn(axis, coordinate(lines, line + 0.5 / parts));
  return { middle: (low + high) / 2, half: (high - low) / 2 };
}

function quantileOf({ middle, half, weight }: Pieces, p: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < middle.length; n += 1) {
    low = Math.min(low, middle[n]! - half[n]!);
    high = Math.max(high, middle[n]! + half[n]!);
  }
  for (let halvings = 0; halvings < MOST_HALVINGS && high - low > 1e-9; halvings += 1) {
    const x = (low + high) / 2;
    let below = 0;
    for (let n = 0; n < middle.length; n += 1) {
      const h = half[n]!;
      const t = h > 0 ? (x - middle[n]! + h) / (2 * h) : x >= middle[n]! ? 1 : 0;
      below += weight[n]! * Math.min(1, Math.max(0, t));
    }
    if (below < p) low = x;
    else high = x;
  }
  return Math.exp((low + high) / 2);
}
