import { logSumExp } from '../../numbers/log-gamma.ts';
import { type Axis, coordinate, coordinateOn, lineOf, REACH, valueOn } from './axis.ts';
import { type Lattice, makeStencil, rAxisBetween, rAxisOf, stencilAt, weighed } from './lattice.ts';

/** Where something lies on an axis, in standard coordinates: from low to high, half of it below the median. */
export interface Reach {
  readonly low: number;
  readonly median: number;
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
/** Where it has fallen by this much at the end of a lattice, what lies beyond is let go. */
const FALLEN_ENOUGH = 4.5;
/** How many lines beyond its ends a lattice is thought to go on, at most, when the weight has not fallen there. */
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

function reachOf(log: Float64Array): Reach {
  const count = log.length;
  if (count === 1) return { low: -REACH, median: 0, high: REACH };
  let best = 0;
  for (let i = 1; i < count; i += 1) if (log[i]! > log[best]!) best = i;
  return {
    low: coordinate(count, endOf(log, best, -1)),
    median: coordinate(count, medianOf(log, log[best]!)),
    high: coordinate(count, endOf(log, best, 1)),
  };
}

/** The (fractional) line where log weights have fallen by FALL from their largest; straight between lines. */
function endOf(log: Float64Array, best: number, direction: 1 | -1): number {
  const floor = log[best]! - FALL;
  const end = direction > 0 ? log.length - 1 : 0;
  let i = end;
  while (i !== best && log[i]! < floor) i -= direction;
  if (i !== end) return i + (direction * (log[i]! - floor)) / (log[i]! - log[i + direction]!);
  if (log[i]! < log[best]! - FALLEN_ENOUGH) return i;
  const slope = i === best ? 0 : log[i - direction]! - log[i]!;
  const beyond = slope > 0 ? (log[i]! - floor) / slope : MOST_BEYOND;
  return i + direction * Math.min(MOST_BEYOND, beyond);
}

/** The (fractional) line with half the weight below it, each line's weight spread evenly over its cell. */
function medianOf(log: Float64Array, top: number): number {
  let sum = 0;
  for (const w of log) sum += Math.exp(w - top);
  let below = 0;
  for (let i = 0; i < log.length; i += 1) {
    const w = Math.exp(log[i]! - top);
    if (below + w >= sum / 2) return i - 0.5 + (sum / 2 - below) / w;
    below += w;
  }
  return log.length - 1;
}

const LEAST_FILLED = 0.7;
const MOST_FILLED = 1.2;
const MOST_OFF = 0.7;
/** Rows that together hold less than this may fit badly. */
const LITTLE = 0.005;
/** Rows that together hold more than this may not reach beyond the ends. */
const NOTICEABLE = 0.05;
/** A row with less than this share of the weight. */
const NEXT_TO_NOTHING = 1e-5;
/** A lattice is narrowed at most to this share of itself at a time: more could not be seen on it. */
const LEAST_NARROWING = 0.25;
/** One side of a stretched axis reaches at most so many times as far as the other. */
const MOST_LOPSIDED = 6;

/** Whether the lattice still fits: it holds where the weight lies, evenly, and is not much wider than that. */
export function fits(lattice: Lattice, extent: Extent): boolean {
  if (!filled(extent.k)) return false;
  let bad = 0;
  for (let i = 0; i < lattice.rows; i += 1) {
    if (!filled(extent.r[i]!)) bad += extent.rowShare[i]!;
  }
  return bad < LITTLE;
}

/** Whether the weight reaches farther beyond the lattice than can be guessed. */
export function reachesBeyond({ k, r, rowShare }: Extent): boolean {
  const beyond = ({ low, high }: Reach) => low < -REACH * MOST_FILLED || high > REACH * MOST_FILLED;
  if (beyond(k)) return true;
  let outside = 0;
  for (let i = 0; i < r.length; i += 1) if (beyond(r[i]!)) outside += rowShare[i]!;
  return outside > NOTICEABLE;
}

function filled({ low, median, high }: Reach): boolean {
  return (
    low >= -REACH * MOST_FILLED &&
    high <= REACH * MOST_FILLED &&
    high - low >= 2 * REACH * LEAST_FILLED &&
    Math.abs(median) <= MOST_OFF
  );
}

/** A lattice that reaches as far as the weights do, row by row. */
export function fitted(lattice: Lattice, extent: Extent): Lattice {
  const { rows, columns } = lattice;
  const k = rows === 1 ? lattice.k : axisFor(lattice.k, extent.k);
  const wanted = columns === 1 ? lattice : fittedRows(lattice, extent);
  const rCenter = new Float64Array(rows);
  const rLogScale = new Float64Array(rows);
  const rSkew = new Float64Array(rows);
  const stencil = makeStencil();
  for (let i = 0; i < rows; i += 1) {
    const logK = valueOn(k, coordinate(rows, i));
    stencilAt(stencil, rows, lineOf(rows, coordinateOn(lattice.k, logK)));
    rCenter[i] = weighed(stencil, wanted.rCenter);
    rLogScale[i] = weighed(stencil, wanted.rLogScale);
    rSkew[i] = weighed(stencil, wanted.rSkew);
  }
  return { rows, columns, k, rCenter, rLogScale, rSkew };
}

/**
 * The rows' axes for log r, each fitted to its row's weights. A row with next to no weight says nothing of
 * its own: it is moved and scaled as the nearest row that does.
 */
function fittedRows(lattice: Lattice, extent: Extent): Pick<Lattice, 'rCenter' | 'rLogScale' | 'rSkew'> {
  const rCenter = lattice.rCenter.slice();
  const rLogScale = lattice.rLogScale.slice();
  const rSkew = lattice.rSkew.slice();
  const telling = [...extent.rowShare.keys()].filter((i) => extent.rowShare[i]! >= NEXT_TO_NOTHING);
  for (let i = 0; i < lattice.rows; i += 1) {
    const like = Math.min(telling.at(-1)!, Math.max(telling[0]!, i));
    const axis = rAxisOf(lattice, like);
    const fit = axisFor(axis, extent.r[like]!);
    rCenter[i] = rCenter[i]! + fit.center - axis.center;
    rLogScale[i] = rLogScale[i]! + Math.log(fit.scale / axis.scale);
    rSkew[i] = fit.skew;
  }
  return { rCenter, rLogScale: smoothed(rLogScale), rSkew: smoothed(rSkew) };
}

/** Neighbouring rows are to be alike, or nothing could be interpolated between them. */
function smoothed(values: Float64Array): Float64Array {
  const last = values.length - 1;
  return values.map(
    (value, i) => (values[Math.max(0, i - 1)]! + 2 * value + values[Math.min(last, i + 1)]!) / 4,
  );
}

/**
 * The lattice kept within another and a line more on each side: beyond that, nothing is known of what the
 * other stands for, and it would have to be made up.
 */
export function keptWithin(lattice: Lattice, known: Lattice): Lattice {
  const { rows, columns } = lattice;
  const k = rows === 1 ? lattice.k : axisWithin(lattice.k, known.k, rows);
  const rCenter = lattice.rCenter.slice();
  const rLogScale = lattice.rLogScale.slice();
  const rSkew = lattice.rSkew.slice();
  const stencil = makeStencil();
  for (let i = 0; i < rows && columns > 1; i += 1) {
    const row = lineOf(rows, coordinateOn(known.k, valueOn(k, coordinate(rows, i))));
    stencilAt(stencil, rows, Math.min(rows - 1, Math.max(0, row)));
    const axis = axisWithin(rAxisOf(lattice, i), rAxisBetween(known, stencil), columns);
    rCenter[i] = axis.center;
    rLogScale[i] = Math.log(axis.scale);
    rSkew[i] = axis.skew;
  }
  return { rows, columns, k, rCenter, rLogScale, rSkew };
}

function axisWithin(axis: Axis, known: Axis, lines: number): Axis {
  const end = REACH + (2 * REACH) / (lines - 1);
  const least = valueOn(known, -end);
  const most = valueOn(known, end);
  const low = Math.max(least, valueOn(axis, -REACH));
  const high = Math.min(most, valueOn(axis, REACH));
  if (low === valueOn(axis, -REACH) && high === valueOn(axis, REACH)) return axis;
  if (!(high > low)) return known;
  const margin = 0.1 * (high - low);
  return axisThrough(low, Math.min(high - margin, Math.max(low + margin, axis.center)), high);
}

/** The axis whose lines run from low to high with the median in the middle. */
function axisFor(axis: Axis, { low, median, high }: Reach): Axis {
  // Seen on too few lines, a narrow weight is only known to lie near its median.
  const narrow = Math.max(0, LEAST_NARROWING * 2 * REACH - (high - low)) / 2;
  const center = valueOn(axis, median);
  const from = valueOn(axis, Math.min(low, median) - narrow);
  return axisThrough(from, center, valueOn(axis, Math.max(high, median) + narrow));
}

function axisThrough(low: number, center: number, high: number): Axis {
  const ratio = Math.min(MOST_LOPSIDED, Math.max(1 / MOST_LOPSIDED, (high - center) / (center - low)));
  const skew = Math.log(ratio) / REACH;
  const width = Math.abs(skew) < 1e-4 ? 2 * REACH : (2 * Math.sinh(skew * REACH)) / skew;
  return { center, scale: (high - low) / width, skew };
}
