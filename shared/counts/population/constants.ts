import { coordinate, type Lattice, logWeightAt, makeStencil, stencilAt, weighed } from './lattice.ts';
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
  const logScale = lattice.rScale.map(Math.log);
  const rowStencil = makeStencil();
  const columnStencil = makeStencil();
  const kCell = cellOf(lattice.rows) * lattice.kScale;
  let total = 0;
  for (let n = 0; n < count; n += 1) {
    const a = (Math.floor(n / columns) + 0.5) / rowParts - 0.5;
    const b = ((n % columns) + 0.5) / columnParts - 0.5;
    stencilAt(rowStencil, lattice.rows, a);
    stencilAt(columnStencil, lattice.columns, b);
    const rCell = cellOf(lattice.columns) * Math.exp(weighed(rowStencil, logScale));
    const logK = lattice.kCenter + kCell * (a - (lattice.rows - 1) / 2);
    const logR = weighed(rowStencil, lattice.rCenter) + rCell * (b - (lattice.columns - 1) / 2);
    pieces.middle[n] = powers.r * logR + powers.k * logK;
    pieces.half[n] = 0.5 * Math.hypot((powers.r * rCell) / columnParts, (powers.k * kCell) / rowParts);
    pieces.weight[n] = Math.exp(logWeightAt(lattice, log, rowStencil, columnStencil));
    total += pieces.weight[n]!;
  }
  for (let n = 0; n < count; n += 1) pieces.weight[n] = pieces.weight[n]! / total;
  return pieces;
}

/** The width of a cell in standard coordinates; a single line has none. */
function cellOf(lines: number): number {
  return lines === 1 ? 0 : coordinate(lines, 1) - coordinate(lines, 0);
}

function quantileOf({ middle, half, weight }: Pieces, p: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < middle.length; n += 1) {
    low = Math.min(low, middle[n]! - half[n]!);
    high = Math.max(high, middle[n]! + half[n]!);
  }
  while (high - low > 1e-9) {
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
