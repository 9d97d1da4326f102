import { type Axis, coordinate, valueOn } from './axis.ts';
import { logWeightAt, makeStencil, rAxisBetween, stencilAt } from './lattice.ts';
import { weightsOf } from './mixture.ts';
import type { Band } from './outlook.ts';
import type { PopulationState } from './state.ts';

/** r^r K^k: a growth rate (1, 0), a capacity (0, 1), four times the sustainable yield (1, 1). */
export interface Powers {
  readonly r: number;
  readonly k: number;
}

/** Each cell of the lattice is cut into so many pieces each way, with the weights interpolated. */
const PARTS = 3;
const BINS = 1024;

const rowStencil = makeStencil();
const columnStencil = makeStencil();

/** The posterior of a product of powers of r and K: median and equal-tailed interval. */
export function constantsOf(state: PopulationState, powers: Powers, level: number): Band {
  return constantIn(constantPieces(state), powers, level);
}

/** The same for a state that was cut into pieces before. */
export function constantIn(of: ConstantPieces, powers: Powers, level: number): Band {
  const pieces = powersOf(of, powers);
  const tail = (1 - level) / 2;
  const [lower, median, upper] = quantilesOf(pieces, [tail, 0.5, 1 - tail]) as [number, number, number];
  return { median, lower, upper };
}

/** A logarithm's distribution as weighted pieces, each spread evenly over its own width. */
interface Pieces {
  readonly middle: Float64Array;
  readonly half: Float64Array;
  readonly weight: Float64Array;
}

/** The posterior of log r and log K as weighted pieces; a piece has a middle and half a width in both. */
export interface ConstantPieces {
  readonly r: readonly { readonly middle: number; readonly half: number }[];
  readonly k: readonly { readonly middle: number; readonly half: number }[];
  readonly weight: Float64Array;
}

function powersOf({ r, k, weight }: ConstantPieces, powers: Powers): Pieces {
  const middle = new Float64Array(weight.length);
  const half = new Float64Array(weight.length);
  for (let n = 0; n < weight.length; n += 1) {
    middle[n] = powers.r * r[n]!.middle + powers.k * k[n]!.middle;
    half[n] = Math.hypot(powers.r * r[n]!.half, powers.k * k[n]!.half);
  }
  return { middle, half, weight };
}

export function constantPieces({ lattice, nodes }: PopulationState): ConstantPieces {
  const rowParts = lattice.rows === 1 ? 1 : PARTS;
  const columnParts = lattice.columns === 1 ? 1 : PARTS;
  const rows = lattice.rows * rowParts;
  const columns = lattice.columns * columnParts;
  const r: { middle: number; half: number }[] = [];
  const k: { middle: number; half: number }[] = [];
  const weight = new Float64Array(rows * columns);
  const log = weightsOf(Float64Array.from(nodes.logWeight)).map((w) => Math.max(-60, Math.log(w)));
  let n = 0;
  for (let i = 0; i < rows; i += 1) {
    const a = (i + 0.5) / rowParts - 0.5;
    stencilAt(rowStencil, lattice.rows, a);
    const logK = pieceOn(lattice.k, lattice.rows, a, rowParts);
    const axis = rAxisBetween(lattice, rowStencil);
    for (let j = 0; j < columns; j += 1) {
      const b = (j + 0.5) / columnParts - 0.5;
      stencilAt(columnStencil, lattice.columns, b);
      k.push(logK);
      r.push(pieceOn(axis, lattice.columns, b, columnParts));
      weight[n] = Math.exp(logWeightAt(lattice, log, rowStencil, columnStencil));
      n += 1;
    }
  }
  return { r, k, weight };
}

/** Middle and half width of the piece of an axis around a (fractional) line; a single line has no width. */
function pieceOn(axis: Axis, lines: number, line: number, parts: number): { middle: number; half: number } {
  if (lines === 1) return { middle: axis.center, half: 0 };
  const low = valueOn(axis, coordinate(lines, line - 0.5 / parts));
  const high = valueOn(axis, coordinate(lines, line + 0.5 / parts));
  return { middle: (low + high) / 2, half: (high - low) / 2 };
}

/** The p-quantiles of exp of the pieces' distribution, p rising. */
function quantilesOf({ middle, half, weight }: Pieces, ps: readonly number[]): number[] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < middle.length; n += 1) {
    low = Math.min(low, middle[n]! - half[n]!);
    high = Math.max(high, middle[n]! + half[n]!);
  }
  const step = (high - low) / (BINS - 2);
  if (!(step > 0)) return ps.map(() => Math.exp(low));
  // Each piece is a rise and a fall of the density, shared between the two bin edges it lies between.
  const edges = new Float64Array(BINS + 2);
  const rise = (at: number, by: number) => {
    const t = (at - low) / step;
    const i = Math.floor(t);
    edges[i] = edges[i]! + by * (1 - t + i);
    edges[i + 1] = edges[i + 1]! + by * (t - i);
  };
  let total = 0;
  for (let n = 0; n < middle.length; n += 1) {
    const h = Math.max(half[n]!, step / 4);
    const density = weight[n]! / ((2 * h) / step);
    rise(middle[n]! - h + step / 4, density);
    rise(middle[n]! + h + step / 4, -density);
    total += weight[n]!;
  }
  const found: number[] = [];
  let density = 0;
  let below = 0;
  for (let i = 0; i < BINS && found.length < ps.length; i += 1) {
    density += edges[i]!;
    while (found.length < ps.length && below + density >= ps[found.length]! * total) {
      const f = density > 0 ? (ps[found.length]! * total - below) / density : 0;
      found.push(Math.exp(low - step / 4 + (i + f) * step));
    }
    below += density;
  }
  while (found.length < ps.length) found.push(Math.exp(high));
  return found;
}
