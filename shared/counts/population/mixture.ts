import { type Lattice, logKAt, logWeightAt, makeStencil, stencilAt, valueAt } from './lattice.ts';
import { HALF_SQUARE, logAlive, type Nodes, POINTS, Z_REACH, Z_STEP } from './nodes.ts';

/**
 * The distribution of a positive number that may also be nil: `nil` is the probability of nil, and
 * cumulative[i] the probability of lying between nil and exp(from + i step).
 */
export interface Distribution {
  readonly nil: number;
  readonly from: number;
  readonly step: number;
  readonly cumulative: Float64Array;
  readonly mean: number;
}

const BINS = 512;
/** Nodes with less than this share of the weight cannot be seen in any answer. */
const NEGLIGIBLE = 1e-6;
/** Neighbouring nodes whose centers differ by more than this many spreads need nodes between them. */
const CLOSE_ENOUGH = 1.4;
const MOST_PARTS = 6;

const edges = new Float64Array(BINS + 2);
const rowStencil = makeStencil();
const columnStencil = makeStencil();
const mass = new Float64Array(POINTS);
const plain = new Float64Array(POINTS + 2);

/** The distribution of N over all nodes, or of N / K. */
export function distributionOf(lattice: Lattice, nodes: Nodes, of: 'N' | 'N/K'): Distribution {
  return distributionBy(sharesOf(lattice, nodes.logWeight), nodes, of);
}

/** The nodes' shares of the posterior, whole and cut into parts: the same however the colonies at the nodes go on. */
export interface Shares {
  readonly lattice: Lattice;
  readonly weights: Float64Array;
  /** Nodes with less are left out. */
  readonly least: number;
  /** By the number of parts; each fills in when it is first needed. */
  readonly cut: Map<string, Float64Array>;
}

export function sharesOf(lattice: Lattice, logWeight: Float64Array, least = NEGLIGIBLE): Shares {
  return { lattice, weights: weightsOf(logWeight), least, cut: new Map() };
}

/** The same as `distributionOf` for nodes whose weights have been looked at before. */
export function distributionBy(shares: Shares, nodes: Nodes, of: 'N' | 'N/K'): Distribution {
  const { lattice, weights } = shares;
  const places = nodes.center.slice();
  if (of === 'N/K') {
    for (let n = 0; n < places.length; n += 1) places[n] = places[n]! - logKAt(lattice, rowOf(lattice, n));
  }
  const span = spanOf(nodes, shares, places);
  const alive = nodes.alive.map((odds) => Math.exp(logAlive(odds)));
  const field = { shares, lattice, nodes, weights, places, alive, span };
  const parts = partsNeeded(field);
  edges.fill(0);
  const living = deposit(field, parts.rows, parts.columns);
  return cumulate(span, living);
}

/** Posterior shares of the nodes, summing to one. */
export function weightsOf(logWeight: Float64Array): Float64Array {
  let top = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < logWeight.length; n += 1) top = Math.max(top, logWeight[n]!);
  const weights = logWeight.map((w) => Math.exp(w - top));
  let sum = 0;
  for (let n = 0; n < weights.length; n += 1) sum += weights[n]!;
  return weights.map((w) => w / sum);
}

interface Span {
  from: number;
  step: number;
}

interface Field {
  shares: Shares;
  lattice: Lattice;
  nodes: Nodes;
  weights: Float64Array;
  places: Float64Array;
  alive: Float64Array;
  span: Span;
}

function rowOf(lattice: Lattice, node: number): number {
  return Math.floor(node / lattice.columns);
}

function spanOf(nodes: Nodes, { weights, least }: Shares, places: Float64Array): Span {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < nodes.count; n += 1) {
    if (weights[n]! < least || nodes.alive[n] === Number.NEGATIVE_INFINITY) continue;
    const reach = nodes.spread[n]! * (Z_REACH + Z_STEP);
    low = Math.min(low, places[n]! - reach);
    high = Math.max(high, places[n]! + reach);
  }
  if (!(high > low)) return { from: 0, step: 1 / BINS };
  const margin = 0.02 * (high - low);
  return { from: low - margin, step: (high - low + 2 * margin) / BINS };
}

/** Into how many parts a cell of the lattice is cut, so that the nodes' distributions run into one another. */
function partsNeeded({ lattice, nodes, weights, places }: Field): { rows: number; columns: number } {
  let acrossRows = 0;
  let acrossColumns = 0;
  let top = 0;
  for (let n = 0; n < nodes.count; n += 1) top = Math.max(top, weights[n]!);
  for (let n = 0; n < nodes.count; n += 1) {
    if (weights[n]! < 1e-3 * top) continue;
    const below = n + lattice.columns;
    if (below < nodes.count) {
      acrossRows = Math.max(acrossRows, Math.abs(places[below]! - places[n]!) / nodes.spread[n]!);
    }
    if ((n + 1) % lattice.columns !== 0) {
      acrossColumns = Math.max(acrossColumns, Math.abs(places[n + 1]! - places[n]!) / nodes.spread[n]!);
    }
  }
  const parts = (gap: number) => Math.min(MOST_PARTS, Math.max(1, Math.ceil(gap / CLOSE_ENOUGH)));
  return { rows: parts(acrossRows), columns: parts(acrossColumns) };
}

/** Adds every (part of a) node's distribution to the bins and answers the share of the living. */
function deposit(field: Field, rowParts: number, columnParts: number): number {
  const { lattice, nodes, weights, alive, span } = field;
  const parts = rowParts * columnParts;
  const shares = parts === 1 ? weights : cutShares(field.shares, rowParts, columnParts);
  const logSpread = parts === 1 ? nodes.spread : nodes.spread.map(Math.log);
  let living = 0;
  let total = 0;
  for (let n = 0; n < nodes.count; n += 1) {
    if (weights[n]! < field.shares.least) continue;
    massesOf(nodes, n);
    for (let p = 0; p < parts; p += 1) {
      const weight = shares[n * parts + p]!;
      living += weight * alive[n]!;
      total += weight;
      if (parts === 1) {
        addCells(field.places[n]!, nodes.spread[n]!, weight * alive[n]!, span);
        continue;
      }
      placePart(lattice, n, p, rowParts, columnParts);
      const place = valueAt(lattice, field.places, rowStencil, columnStencil, 1);
      const spread = Math.exp(valueAt(lattice, logSpread, rowStencil, columnStencil, 0));
      addCells(place, spread, weight * alive[n]!, span);
    }
  }
  for (let i = 0; i < edges.length; i += 1) edges[i] = edges[i]! / total;
  return living / total;
}

/** Sets the stencils on a part of a node. */
function placePart(
  lattice: Lattice,
  node: number,
  part: number,
  rowParts: number,
  columnParts: number,
): void {
  const row = rowOf(lattice, node);
  const column = node - row * lattice.columns;
  stencilAt(rowStencil, lattice.rows, row + ((part % rowParts) + 0.5) / rowParts - 0.5);
  stencilAt(columnStencil, lattice.columns, column + (Math.floor(part / rowParts) + 0.5) / columnParts - 0.5);
}

/** The shares of the parts of every node that can be seen, node after node. */
function cutShares(shares: Shares, rowParts: number, columnParts: number): Float64Array {
  const key = `${rowParts} ${columnParts}`;
  const known = shares.cut.get(key);
  if (known) return known;
  const { lattice, weights } = shares;
  const parts = rowParts * columnParts;
  const logWeight = weights.map((w) => Math.max(-60, Math.log(w)));
  const cut = new Float64Array(weights.length * parts);
  for (let n = 0; n < weights.length; n += 1) {
    if (weights[n]! < shares.least) continue;
    for (let p = 0; p < parts; p += 1) {
      placePart(lattice, n, p, rowParts, columnParts);
      cut[n * parts + p] = Math.exp(logWeightAt(lattice, logWeight, rowStencil, columnStencil)) / parts;
    }
  }
  shares.cut.set(key, cut);
  return cut;
}

/**
 * The masses of a node's cells. Spreading a mass evenly over its cell widens the whole by a twelfth of the
 * cell's width squared; taking off a 24th of the second difference undoes that.
 */
function massesOf(nodes: Nodes, node: number): void {
  const base = node * POINTS;
  let sum = 0;
  for (let k = 0; k < POINTS; k += 1) {
    plain[k + 1] = Math.exp(nodes.shape[base + k]! - HALF_SQUARE[k]!);
    sum += plain[k + 1]!;
  }
  for (let k = 0; k < POINTS; k += 1) {
    mass[k] = (plain[k + 1]! - (plain[k]! - 2 * plain[k + 1]! + plain[k + 2]!) / 24) / sum;
  }
}

/**
 * Adds a node's cells, each with its mass spread evenly, as steps of the density at the cells' edges. A
 * step between two bin edges is shared between them, which keeps the cumulative exact at every bin edge.
 */
function addCells(place: number, spread: number, weight: number, span: Span): void {
  if (weight === 0) return;
  const cell = (spread * Z_STEP) / span.step;
  const scale = weight / cell;
  let at = (place - spread * (Z_REACH + 0.5 * Z_STEP) - span.from) / span.step;
  let before = 0;
  for (let k = 0; k <= POINTS; k += 1) {
    const density = k < POINTS ? mass[k]! * scale : 0;
    const rise = density - before;
    before = density;
    const t = Math.min(BINS, Math.max(0, at));
    const i = t | 0;
    const f = t - i;
    edges[i] = edges[i]! + (1 - f) * rise;
    edges[i + 1] = edges[i + 1]! + f * rise;
    at += cell;
  }
}

function cumulate(span: Span, living: number): Distribution {
  const cumulative = new Float64Array(BINS + 1);
  let density = 0;
  let sum = 0;
  let mean = 0;
  for (let i = 0; i < BINS; i += 1) {
    density += edges[i]!;
    const share = Math.max(0, density);
    cumulative[i] = sum;
    sum += share;
    mean += share * Math.exp(span.from + (i + 0.5) * span.step);
  }
  cumulative[BINS] = sum;
  const scale = sum > 0 ? living / sum : 0;
  for (let i = 0; i <= BINS; i += 1) cumulative[i] = cumulative[i]! * scale;
  return { nil: 1 - living, from: span.from, step: span.step, cumulative, mean: mean * scale };
}

/** The p-quantile; 0 while nil alone is as likely as p. */
export function quantile(distribution: Distribution, p: number): number {
  const { nil, from, step, cumulative } = distribution;
  const wanted = p - nil;
  if (wanted <= 0) return 0;
  let low = 0;
  let high = cumulative.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (cumulative[middle]! < wanted) low = middle;
    else high = middle;
  }
  const rise = cumulative[high]! - cumulative[low]!;
  const f = rise > 0 ? Math.min(1, Math.max(0, (wanted - cumulative[low]!) / rise)) : 0.5;
  return Math.exp(from + (low + f) * step);
}

/** P(the number >= value). */
export function chanceOfAtLeast(distribution: Distribution, value: number): number {
  if (value <= 0) return 1;
  const { nil, from, step, cumulative } = distribution;
  const last = cumulative.length - 1;
  const t = (Math.log(value) - from) / step;
  if (t <= 0) return 1 - nil;
  if (t >= last) return 0;
  const i = Math.floor(t);
  const below = cumulative[i]! + (t - i) * (cumulative[i + 1]! - cumulative[i]!);
  return Math.max(0, 1 - nil - below);
}
