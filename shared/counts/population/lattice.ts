import { type Axis, coordinate, valueOn } from './axis.ts';

/**
 * The lattice of (log K, log r) on which the unknown constants of a culture are weighed. Rows are values of
 * log K; every row has an axis of its own for log r, so that the lattice follows the ridge that counts leave
 * (a colony can have grown like this with a high r and a low K, or the other way about).
 */
export interface Lattice {
  readonly rows: number;
  readonly columns: number;
  readonly k: Axis;
  /** The axes of log r, one value for each row. */
  readonly rCenter: Float64Array;
  readonly rLogScale: Float64Array;
  readonly rSkew: Float64Array;
}

export const ROWS = 13;
export const COLUMNS = 11;

export function logKAt(lattice: Lattice, row: number): number {
  return valueOn(lattice.k, coordinate(lattice.rows, row));
}

export function rAxisOf(lattice: Lattice, row: number): Axis {
  return {
    center: lattice.rCenter[row]!,
    scale: Math.exp(lattice.rLogScale[row]!),
    skew: lattice.rSkew[row]!,
  };
}

/** The axis of log r between rows. */
export function rAxisBetween(lattice: Lattice, rows: Stencil): Axis {
  return {
    center: weighed(rows, lattice.rCenter),
    scale: Math.exp(weighed(rows, lattice.rLogScale)),
    skew: weighed(rows, lattice.rSkew),
  };
}

/** How many lines a value between lines is interpolated from (Lagrange, of the fifth degree). */
export const SPAN = 6;

/** Weights for a fractional place among some lines. */
export interface Stencil {
  first: number;
  /** How far from the first of them, in lines. */
  place: number;
  /** Whether the place lies beyond the ends. */
  beyond: boolean;
  readonly weights: Float64Array;
}

export function makeStencil(): Stencil {
  return { first: 0, place: 0, beyond: false, weights: new Float64Array(SPAN) };
}

/** How many lines beyond the ends a straight line is trusted, and how many a falling log weight. */
const BEYOND = 2;
const FAR_BEYOND = 12;

/** Fills the stencil; beyond the ends with a straight line through the last two. A single line stands for itself. */
export function stencilAt(stencil: Stencil, count: number, place: number): void {
  const { weights } = stencil;
  stencil.first = 0;
  stencil.place = 0;
  stencil.beyond = false;
  weights.fill(0);
  if (count === 1) {
    weights[0] = 1;
    return;
  }
  const t = Math.min(count - 1 + FAR_BEYOND, Math.max(-FAR_BEYOND, place));
  stencil.first = Math.min(count - SPAN, Math.max(0, Math.floor(t) - SPAN / 2 + 1));
  stencil.place = t - stencil.first;
  if (t < 0 || t > count - 1) {
    stencil.beyond = true;
    const p = t < 0 ? 0 : SPAN - 2;
    const f = Math.min(1 + BEYOND, Math.max(-BEYOND, stencil.place - p));
    weights[p] = 1 - f;
    weights[p + 1] = f;
    return;
  }
  for (let p = 0; p < SPAN; p += 1) {
    let weight = 1;
    for (let q = 0; q < SPAN; q += 1) if (q !== p) weight *= (stencil.place - q) / (p - q);
    weights[p] = weight;
  }
}

export function weighed(stencil: Stencil, values: Float64Array): number {
  let sum = 0;
  for (let p = 0; p < SPAN && stencil.first + p < values.length; p += 1) {
    sum += stencil.weights[p]! * values[stencil.first + p]!;
  }
  return sum;
}

/**
 * A quantity of the nodes at a place between them: never beyond what stands around it, but past the ends of
 * the lattice by up to `slack` times the difference there.
 */
export function valueAt(
  lattice: Lattice,
  values: Float64Array,
  rows: Stencil,
  columns: Stencil,
  slack: number,
): number {
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let p = 0; p < SPAN; p += 1) {
    const w = rows.weights[p]!;
    if (w === 0) continue;
    const base = (rows.first + p) * lattice.columns + columns.first;
    for (let q = 0; q < SPAN; q += 1) {
      if (columns.weights[q] === 0) continue;
      const value = values[base + q]!;
      sum += w * columns.weights[q]! * value;
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
  }
  const past = rows.beyond || columns.beyond ? slack * (most - least) : 0;
  return Math.min(most + past, Math.max(least - past, sum));
}

/** Log weights that bend by more than this from line to line fall off a cliff: no smooth curve may cross it. */
const CLIFF = 12;
/** How much a log weight may rise beyond the ends, where all that is known is that it rose before. */
const MOST_RISE = 0.5;
const along = new Float64Array(SPAN);
const across = new Float64Array(SPAN);

/**
 * A log weight of the nodes at a place between them; beside a cliff in straight lines, which cannot swing
 * over, and beyond the ends falling on as it fell before.
 */
export function logWeightAt(lattice: Lattice, log: Float64Array, rows: Stencil, columns: Stencil): number {
  const height = Math.min(SPAN, lattice.rows);
  const width = Math.min(SPAN, lattice.columns);
  for (let p = 0; p < height; p += 1) {
    const base = (rows.first + p) * lattice.columns + columns.first;
    for (let q = 0; q < width; q += 1) along[q] = log[base + q]!;
    across[p] = crossing(columns, along, width);
  }
  return crossing(rows, across, height);
}

function crossing({ place, weights }: Stencil, values: Float64Array, count: number): number {
  if (count === 1) return values[0]!;
  if (place < 0) return fallingOn(values[0]!, values[1]!, values[2]!, -place);
  const last = count - 1;
  if (place > last) return fallingOn(values[last]!, values[last - 1]!, values[last - 2]!, place - last);
  let steep = false;
  for (let p = 1; p < last; p += 1) {
    if (Math.abs(values[p - 1]! - 2 * values[p]! + values[p + 1]!) > CLIFF) steep = true;
  }
  if (steep) {
    const p = Math.min(last - 1, Math.floor(place));
    return values[p]! + (place - p) * (values[p + 1]! - values[p]!);
  }
  let sum = 0;
  for (let p = 0; p < count; p += 1) sum += weights[p]! * values[p]!;
  return sum;
}

/** Goes on from the last of three values in a curve that bends down, or straight, but hardly rises. */
function fallingOn(last: number, before: number, first: number, beyond: number): number {
  const bend = Math.min(0, last - 2 * before + first);
  return last + Math.min(MOST_RISE, beyond * (last - before) + 0.5 * beyond * (beyond + 1) * bend);
}
