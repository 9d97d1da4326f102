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
  UNIT,
  writeDensity,
  writeNormal,
  Z_REACH,
  Z_STEP,
} from './nodes.ts';

/** Past this many e-foldings a colony is at its capacity to the last digit. */
const MOST_GROWTH = 50;
/** Noise of more than this times the variance is laid on as a sum of normals, less is a short filter. */
const NOISY = 0.25;
/** Finest subdivision of the source when the noise is narrower than the gaps between its points. */
const MOST_PARTS = 6;
/** Normals as wide as the noise run together while they stand no farther apart than this many widths. */
const GAP = 1.6;
const NOISE_REACH = 4.5;

const mass = new Float64Array(POINTS * MOST_PARTS);
const mapped = new Float64Array(POINTS * MOST_PARTS);
const density = new Float64Array(POINTS);
const PADDING = 32;
const taps = new Float64Array(PADDING);
const padded = new Float64Array(POINTS + 2 * PADDING);

interface Move {
  rise: number;
  logK: number;
  noise: number;
  /** Mean and standard deviation after growth, and with the noise. */
  mean: number;
  sd: number;
  total: number;
}
const move: Move = { rise: 0, logK: 0, noise: 0, mean: 0, sd: 0, total: 0 };

/**
 * Lets one node's colony grow: x = log N moves along the logistic curve in closed form (Verhulst 1838,
 * x -> x + rd - log(1 + (e^rd - 1) N / K)) and is blurred by a normal with standard deviation `noise`.
 *
 * Growth is undone exactly at each point of the new grid, so nothing spreads except by the noise.
 */
export function grow(nodes: Nodes, node: number, growth: number, logK: number, noise: number): void {
  const cutOff = nodes.shape[node * POINTS + LOW_POINT]! < NEARLY_NIL;
  const stride = cutOff ? 1 : STRIDE;
  move.rise = Math.min(growth, MOST_GROWTH);
  move.logK = logK;
  move.noise = noise;
  const count = carryPoints(nodes, node, stride);
  if (move.total <= LEAST_SPREAD) {
    writeNormal(nodes, node, move.mean, LEAST_SPREAD);
    return;
  }
  if (noise * noise > NOISY * move.sd * move.sd) smear(nodes, node, stride, count);
  else pullBack(nodes, node);
  nodes.center[node] = move.mean;
  nodes.spread[node] = move.total;
  writeDensity(nodes, node, density);
}

/** Moves each stride-th point along the curve; fills `mass` and `mapped`, and the moments of `move`. */
function carryPoints(nodes: Nodes, node: number, stride: number): number {
  const base = node * POINTS;
  const center = nodes.center[node]!;
  const spread = nodes.spread[node]!;
  const offset = stride === 1 ? 0 : 1;
  const step = spread * Z_STEP * stride;
  const factor = Math.exp(step);
  let x = center + spread * (offset * Z_STEP - Z_REACH);
  let crowding = Math.expm1(move.rise) * Math.exp(x - move.logK);
  let count = 0;
  let sum = 0;
  let first = 0;
  for (let k = offset; k < POINTS; k += stride) {
    const w = Math.exp(nodes.shape[base + k]! - HALF_SQUARE[k]!);
    const y = x + move.rise - Math.log(1 + crowding);
    crowding *= factor;
    x += step;
    mass[count] = w;
    mapped[count] = y;
    sum += w;
    first += w * y;
    count += 1;
  }
  move.mean = first / sum;
  let second = 0;
  for (let i = 0; i < count; i += 1) second += mass[i]! * (mapped[i]! - move.mean) ** 2;
  move.sd = Math.sqrt(second / sum);
  move.total = Math.sqrt(second / sum + move.noise * move.noise);
  return count;
}

/** The new density as a sum of normals, one for each point of the old grid. */
function smear(nodes: Nodes, node: number, stride: number, count: number): void {
  let top = 0;
  for (let i = 0; i < count; i += 1) top = Math.max(top, mass[i]!);
  let widest = 0;
  for (let i = 1; i < count; i += 1) {
    if (mass[i]! > 1e-4 * top) widest = Math.max(widest, mapped[i]! - mapped[i - 1]!);
  }
  // Where growth leaves gaps wider than the noise, points between them fill in.
  const parts = Math.min(MOST_PARTS, Math.ceil(widest / (GAP * move.noise * stride)));
  density.fill(0);
  addNormals(widest <= GAP * move.noise ? count : subdivide(nodes, node, Math.max(1, parts)));
}

function subdivide(nodes: Nodes, node: number, parts: number): number {
  const center = nodes.center[node]!;
  const spread = nodes.spread[node]!;
  const count = (POINTS - 1) * parts + 1;
  const step = Z_STEP / parts;
  const factor = Math.exp(spread * step);
  let crowding = Math.expm1(move.rise) * Math.exp(center - spread * Z_REACH - move.logK);
  for (let i = 0; i < count; i += 1) {
    const z = i * step - Z_REACH;
    mass[i] = Math.exp(shapeAt(nodes.shape, node * POINTS, z) - 0.5 * z * z);
    mapped[i] = center + spread * z + move.rise - Math.log(1 + crowding);
    crowding *= factor;
  }
  return count;
}

/** Adds a normal of the noise's width around each mapped point. */
function addNormals(count: number): void {
  const from = move.mean - move.total * Z_REACH;
  const step = move.total * Z_STEP;
  const gap = step / move.noise;
  const reach = NOISE_REACH / gap;
  const shrink = Math.exp(-gap * gap);
  for (let i = 0; i < count; i += 1) {
    const w = mass[i]!;
    if (w < 1e-12) continue;
    const at = (mapped[i]! - from) / step;
    const low = Math.max(0, Math.ceil(at - reach));
    const high = Math.min(POINTS - 1, Math.floor(at + reach));
    // exp(-(low + k - at)^2 gap^2 / 2) for k = 0, 1, ... by two multiplications each
    const offset = (low - at) * gap;
    let value = w * Math.exp(-0.5 * offset * offset);
    let ratio = Math.exp(-offset * gap - 0.5 * gap * gap);
    for (let k = low; k <= high; k += 1) {
      density[k] = density[k]! + value;
      value *= ratio;
      ratio *= shrink;
    }
  }
}

/** The old density carried along the curve to each point of the new grid, then a little noise. */
function pullBack(nodes: Nodes, node: number): void {
  const base = node * POINTS;
  const center = nodes.center[node]!;
  const spread = nodes.spread[node]!;
  const undo = Math.expm1(-move.rise);
  const factor = Math.exp(move.total * Z_STEP);
  let room = undo * Math.exp(move.mean - move.total * Z_REACH - move.logK);
  for (let k = 0; k < POINTS; k += 1) {
    const left = 1 + room;
    room *= factor;
    density[k] = 0;
    if (left < 1e-12) continue;
    const y = move.mean + move.total * (k * Z_STEP - Z_REACH);
    const z = (y - move.rise - Math.log(left) - center) / spread;
    if (z > -8 && z < 8) density[k] = Math.exp(shapeAt(nodes.shape, base, z) - 0.5 * z * z) / left;
  }
  if (move.noise > 0) blur(move.noise / (move.total * Z_STEP));
}

/**
 * Convolves `density` with a normal of standard deviation `sigma` grid steps. Wide enough, the normal is
 * simply sampled; a narrow one is replaced by the five weights with the same second and fourth moment.
 */
function blur(sigma: number): void {
  const square = sigma * sigma;
  let reach = 2;
  if (sigma < 0.75) {
    const outer = (3 * square * square - square) / 24;
    const inner = (square - 8 * outer) / 2;
    taps[0] = 1 - 2 * inner - 2 * outer;
    taps[1] = inner;
    taps[2] = outer;
  } else {
    reach = Math.min(taps.length - 1, Math.ceil(NOISE_REACH * sigma));
    for (let i = 0; i <= reach; i += 1) taps[i] = Math.exp((-0.5 * i * i) / square);
  }
  for (let k = 0; k < POINTS; k += 1) padded[PADDING + k] = density[k]!;
  for (let k = 0; k < POINTS; k += 1) {
    const at = PADDING + k;
    let sum = taps[0]! * padded[at]!;
    for (let i = 1; i <= reach; i += 1) sum += taps[i]! * (padded[at - i]! + padded[at + i]!);
    // The five weights can dip a hair below nothing beside a sharp edge.
    density[k] = Math.max(sum, 0);
  }
}

/**
 * Counts what has fallen below half an animal as extinct, in one node. The point nearest the edge keeps
 * the part of its cell that lies above.
 */
export function cutExtinct(nodes: Nodes, node: number): void {
  const edge = (LOG_HALF - nodes.center[node]!) / nodes.spread[node]!;
  if (edge < -Z_REACH - 0.5 * Z_STEP) return;
  const base = node * POINTS;
  const t = (edge + Z_REACH) / Z_STEP;
  let lost = 0;
  let kept = 0;
  let carry = 0;
  for (let k = 0; k < POINTS; k += 1) {
    const w = Math.exp(nodes.shape[base + k]! - HALF_SQUARE[k]!);
    const above = Math.min(1, Math.max(0, k + 0.5 - t));
    lost += (1 - above) * w;
    kept += above * w;
    // A point below the edge must not stay: what its cell holds above the edge goes to the next point.
    if (k < t) {
      density[k] = 0;
      carry += above * w;
    } else {
      density[k] = above * w + carry;
      carry = 0;
    }
  }
  if (lost * UNIT < 1e-12) return;
  const odds = nodes.alive[node]!;
  const share = kept / (kept + lost);
  const logLive = logAlive(odds) + Math.log(share);
  const logDead = Math.log1p(-Math.exp(logLive));
  nodes.alive[node] = kept * UNIT < 1e-12 ? Number.NEGATIVE_INFINITY : logLive - logDead;
  if (kept > 0) writeDensity(nodes, node, density);
}
