import { logSumExp } from '../../numbers/log-gamma.ts';

/**
 * The lattice of (log K, log r) on which the unknown constants of a culture are weighed. Rows are values of
 * log K; every row has its own center and scale for log r, so that the lattice follows the ridge that
 * counts leave (a colony can have grown like this with a high r and a low K, or the other way about).
 */
export interface Lattice {
  readonly rows: number;
  readonly columns: number;
  readonly kCenter: number;
  readonly kScale: number;
  /** Of log r, one for each row. */
  readonly rCenter: Float64Array;
  readonly rScale: Float64Array;
}

export const ROWS = 11;
export const COLUMNS = 11;
/** How many standard deviations the lattice reaches on either side. */
export const REACH = 3.6;

/** The standard coordinate of the i-th of `count` lattice lines. */
export function coordinate(count: number, i: number): number {
  return count === 1 ? 0 : -REACH + (2 * REACH * i) / (count - 1);
}

/** The (fractional) line of a standard coordinate. */
export function lineOf(count: number, coordinate: number): number {
  return count === 1 ? 0 : ((coordinate + REACH) * (count - 1)) / (2 * REACH);
}

export function logKAt(lattice: Lattice, row: number): number {
  return lattice.kCenter + lattice.kScale * coordinate(lattice.rows, row);
}

export function logRAt(lattice: Lattice, row: number, column: number): number {
  return lattice.rCenter[row]! + lattice.rScale[row]! * coordinate(lattice.columns, column);
}

/** Four-point cubic (Lagrange) weights for a fractional place among `count` lines. */
export interface Stencil {
  first: number;
  /** How far from the first of the four, in lines; NaN where there is only one. */
  place: number;
  readonly weights: Float64Array;
}

export function makeStencil(): Stencil {
  return { first: 0, place: 0, weights: new Float64Array(4) };
}

/** Fills the stencil; places outside are moved to the nearest line. Few lines need fewer points. */
export function stencilAt(stencil: Stencil, count: number, place: number): void {
  const { weights } = stencil;
  weights.fill(0);
  stencil.first = 0;
  stencil.place = Number.NaN;
  if (count === 1) {
    weights[0] = 1;
    return;
  }
  const t = Math.min(count - 1, Math.max(0, place));
  const first = Math.min(count - 4, Math.max(0, Math.floor(t) - 1));
  const f = t - first - 1;
  stencil.first = first;
  stencil.place = t - first;
  weights[0] = (-f * (f - 1) * (f - 2)) / 6;
  weights[1] = ((f + 1) * (f - 1) * (f - 2)) / 2;
  weights[2] = (-(f + 1) * f * (f - 2)) / 2;
  weights[3] = ((f + 1) * f * (f - 1)) / 6;
}

export function weighed(stencil: Stencil, values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < 4 && stencil.first + i < values.length; i += 1) {
    sum += stencil.weights[i]! * values[stencil.first + i]!;
  }
  return sum;
}

/** Log weights that bend by more than this from line to line fall off a cliff: no cubic may cross it. */
const CLIFF = 12;
const four = new Float64Array(4);
const fourRows = new Float64Array(4);

/** Interpolates four log weights; beside a cliff in a straight line, which cannot swing over. */
function crossing({ place, weights }: Stencil, [a, b, c, d]: Float64Array): number {
  if (Number.isNaN(place)) return a!;
  if (Math.abs(a! - 2 * b! + c!) < CLIFF && Math.abs(b! - 2 * c! + d!) < CLIFF) {
    return weights[0]! * a! + weights[1]! * b! + weights[2]! * c! + weights[3]! * d!;
  }
  if (place < 1) return a! + place * (b! - a!);
  return place < 2 ? b! + (place - 1) * (c! - b!) : c! + (place - 2) * (d! - c!);
}

/** A log weight of the nodes at a place between them. */
export function logWeightAt(lattice: Lattice, log: Float64Array, rows: Stencil, columns: Stencil): number {
  const along = fourRows;
  for (let p = 0; p < 4; p += 1) {
    const row = Math.min(lattice.rows - 1, rows.first + p);
    for (let q = 0; q < 4; q += 1) {
      four[q] = log[row * lattice.columns + Math.min(lattice.columns - 1, columns.first + q)]!;
    }
    along[p] = crossing(columns, four);
  }
  return crossing(rows, along);
}

/** From where to where something reaches, in standard coordinates. */
export interface Reach {
  readonly low: number;
  readonly high: number;
}

/** Where the weight lies on a lattice. */
export interface Extent {
  /** Of the rows, by their summed weights. */
  readonly k: Reach;
  /** Of the columns, in each row. */
  readonly r: readonly Reach[];
  /** The share of the weight in each row. */
  readonly rowShare: Float64Array;
}

/** A normal distribution has fallen by this much, in logs, where the lattice ends. */
const FALL = (REACH * REACH) / 2;
/** How far beyond its ends a lattice is thought to go on, at most, when the weight has not fallen there. */
const MOST_BEYOND = 2;

export function extentOf(lattice: Lattice, logWeight: Float64Array): Extent {
  const { rows, columns } = lattice;
  const rowLog = new Float64Array(rows);
  const r: Reach[] = [];
  for (let i = 0; i < rows; i += 1) {
    const row = logWeight.subarray(i * columns, (i + 1) * columns);
    rowLog[i] = logSumExp(row);
    r.push(reachOf(row));
  }
  const all = logSumExp(rowLog);
  return { k: reachOf(rowLog), r, rowShare: rowLog.map((w) => Math.exp(w - all)) };
}

/** Between which places log weights are within FALL of their largest; straight lines between the lines. */
function reachOf(log: Float64Array): Reach {
  const count = log.length;
  if (count === 1) return { low: -REACH, high: REACH };
  let best = 0;
  for (let i = 1; i < count; i += 1) if (log[i]! > log[best]!) best = i;
  const floor = log[best]! - FALL;
  const spacing = (2 * REACH) / (count - 1);
  const side = (direction: 1 | -1): number => {
    const end = direction > 0 ? count - 1 : 0;
    let i = end;
    while (i !== best && log[i]! < floor) i -= direction;
    if (i === end) {
      const slope = i === best ? 0 : log[i - direction]! - log[i]!;
      const beyond = slope > 0 ? (log[i]! - floor) / slope : MOST_BEYOND;
      return coordinate(count, i) + direction * spacing * Math.min(MOST_BEYOND, beyond);
    }
    const drop = log[i]! - log[i + direction]!;
    return coordinate(count, i) + direction * spacing * ((log[i]! - floor) / drop);
  };
  return { low: side(-1), high: side(1) };
}

const LEAST_FILLED = 0.62;
const MOST_FILLED = 1.15;
/** Rows that together hold less than this may fit badly. */
const LITTLE = 0.005;
/** A lattice is narrowed at most to this share of itself at a time: more could not be seen on it. */
const LEAST_NARROWING = 0.25;

/** Whether the lattice still fits: it holds where the weight lies, and is not much wider than that. */
export function fits(lattice: Lattice, extent: Extent): boolean {
  if (!filled(extent.k)) return false;
  let bad = 0;
  for (let i = 0; i < lattice.rows; i += 1) {
    if (!filled(extent.r[i]!)) bad += extent.rowShare[i]!;
  }
  return bad < LITTLE;
}

function filled({ low, high }: Reach): boolean {
  return low >= -REACH * MOST_FILLED && high <= REACH * MOST_FILLED && high - low >= 2 * REACH * LEAST_FILLED;
}

/** A lattice that reaches as far as the weights do, row by row. */
export function fitted(lattice: Lattice, extent: Extent): Lattice {
  const { rows, columns } = lattice;
  const center = new Float64Array(rows);
  const logScale = new Float64Array(rows);
  for (let i = 0; i < rows; i += 1) {
    center[i] = lattice.rCenter[i]! + lattice.rScale[i]! * middleOf(extent.r[i]!);
    logScale[i] = Math.log(lattice.rScale[i]! * scaleOf(extent.r[i]!));
  }
  const kCenter = lattice.kCenter + lattice.kScale * middleOf(extent.k);
  const kScale = lattice.kScale * scaleOf(extent.k);
  const rCenter = new Float64Array(rows);
  const rScale = new Float64Array(rows);
  const stencil = makeStencil();
  for (let i = 0; i < rows; i += 1) {
    const logK = kCenter + kScale * coordinate(rows, i);
    stencilAt(stencil, rows, lineOf(rows, (logK - lattice.kCenter) / lattice.kScale));
    rCenter[i] = weighed(stencil, center);
    rScale[i] = Math.exp(weighed(stencil, logScale));
  }
  return { rows, columns, kCenter, kScale, rCenter, rScale };
}

function middleOf({ low, high }: Reach): number {
  return (low + high) / 2;
}

function scaleOf({ low, high }: Reach): number {
  return Math.max(LEAST_NARROWING, (high - low) / (2 * REACH));
}
