import { logSumExp } from '../../numbers/log-gamma.ts';
import { constantsOf } from './constants.ts';
import { type Likelihood, likelihoodOf } from './likelihood.ts';
import type { Distribution } from './mixture.ts';
import { copyNodes, makeNodes, type Nodes, POINTS } from './nodes.ts';
import { observe } from './observe.ts';
import { type PopulationState, pack } from './state.ts';
import type { Step } from './steps.ts';

const CELLS = 12 * POINTS;
/** A product of density and likelihood that fills fewer cells than this is looked at more closely. */
const ENOUGH_CELLS = 24;
const MOST_LOOKS = 8;
/** Where a product has fallen this far below its top, it is left out of a closer look. */
const NOTHING = 1e-9;

const log = new Float64Array(CELLS);
const product = new Float64Array(CELLS);
const block = new Float64Array(POINTS);

/** What is thought of N before a count, as a density of log N on cells that many supposed counts share. */
export interface Prior {
  readonly now: Distribution;
  readonly from: number;
  readonly step: number;
  readonly density: Float64Array;
}

export function priorOf(now: Distribution): Prior {
  const step = ((now.cumulative.length - 1) * now.step) / CELLS;
  const from = now.from + step / 2;
  return { now, from, step, density: densities(now, from, step) };
}

export interface Supposed {
  /** The log of how likely the count is, up to what the likelihood leaves out. */
  readonly logChance: number;
  /** The distribution of N if the count were made. */
  readonly number: Distribution;
}

interface Look {
  from: number;
  step: number;
  top: number;
  sum: number;
  /** How many cells the product is spread over. */
  cells: number;
}

/**
 * What a count would leave of N: Bayes on the distribution of N alone, with the growth rate and the capacity
 * summed out before. That loses nothing, since a count tells of them only through N. Far quicker than taking
 * the event into the state, and the same to about a hundredth of an interval's width.
 */
export function numberGiven({ now, from, step, density }: Prior, likelihood: Likelihood): Supposed {
  let look = multiply(density, likelihood, from, step);
  for (let looks = 0; looks < MOST_LOOKS && look.cells > 0 && look.cells < ENOUGH_CELLS; looks += 1) {
    const [low, high] = ends();
    const closer = (look.step * (high - low + 2)) / CELLS;
    const start = look.from + look.step * (low - 1) + closer / 2;
    look = multiply(densities(now, start, closer), likelihood, start, closer);
  }
  const live = look.cells > 0 ? look.top + Math.log(look.sum * look.step) : Number.NEGATIVE_INFINITY;
  const dead = Math.log(now.nil) + likelihood.extinct;
  const top = Math.max(live, dead);
  if (top === Number.NEGATIVE_INFINITY) return { logChance: top, number: now };
  const logChance = top + Math.log(Math.exp(live - top) + Math.exp(dead - top));
  return { logChance, number: distribution(look, Math.exp(live - logChance)) };
}

/** The capacity's median if a count were made now, by the filter's own step at every node. */
export function capacityGiven(state: PopulationState, nodes: Nodes, step: Step): number {
  const copy = copyNodes(nodes);
  let highest = 0;
  for (let n = 0; n < copy.count; n += 1) highest = Math.max(highest, copy.center[n]! + 6 * copy.spread[n]!);
  const likelihood = likelihoodOf(step, highest);
  for (let n = 0; n < copy.count; n += 1) observe(copy, n, likelihood);
  return capacityOf(state, copy);
}

/** The capacity's median from the sums of the rows: of growth rates only the sum counts here. */
function capacityOf(state: PopulationState, nodes: Nodes): number {
  const { rows, columns } = state.lattice;
  const rowOf = (i: number) => nodes.logWeight.subarray(i * columns, (i + 1) * columns);
  const summed = makeNodes(rows);
  for (let i = 0; i < rows; i += 1) summed.logWeight[i] = logSumExp(rowOf(i));
  const lattice = { ...state.lattice, columns: 1 };
  return constantsOf({ ...state, lattice, nodes: pack(summed) }, { r: 0, k: 1 }, 0.5).median;
}

/** The density of log N, straight from the middle of one of the distribution's bins to the next. */
function densities({ from, step, cumulative }: Distribution, start: number, width: number): Float64Array {
  const last = cumulative.length - 2;
  const bin = (i: number) => (i < 0 || i > last ? 0 : cumulative[i + 1]! - cumulative[i]!);
  const density = new Float64Array(CELLS);
  for (let c = 0; c < CELLS; c += 1) {
    const t = (start + c * width - from) / step - 0.5;
    const i = Math.floor(t);
    density[c] = (bin(i) + (t - i) * (bin(i + 1) - bin(i))) / step;
  }
  return density;
}

function multiply(density: Float64Array, likelihood: Likelihood, from: number, step: number): Look {
  for (let c = 0; c < CELLS; c += POINTS) {
    likelihood.fill(block, from + c * step, step);
    log.set(block, c);
  }
  const look = { from, step, top: Number.NEGATIVE_INFINITY, sum: 0, cells: 0 };
  for (let c = 0; c < CELLS; c += 1) if (density[c]! > 0 && log[c]! > look.top) look.top = log[c]!;
  if (look.top === Number.NEGATIVE_INFINITY) return look;
  let squares = 0;
  for (let c = 0; c < CELLS; c += 1) {
    const value = density[c]! > 0 ? density[c]! * Math.exp(log[c]! - look.top) : 0;
    product[c] = value;
    look.sum += value;
    squares += value * value;
  }
  look.cells = (look.sum * look.sum) / squares;
  return look;
}

/** The first and the last cell in which the product is worth anything. */
function ends(): [number, number] {
  let most = 0;
  for (let c = 0; c < CELLS; c += 1) most = Math.max(most, product[c]!);
  let low = 0;
  let high = CELLS - 1;
  while (product[low]! < NOTHING * most) low += 1;
  while (product[high]! < NOTHING * most) high -= 1;
  return [low, high];
}

function distribution({ from, step, sum, cells }: Look, living: number): Distribution {
  const cumulative = new Float64Array(CELLS + 1);
  let mean = 0;
  for (let c = 0; cells > 0 && c < CELLS; c += 1) {
    const share = (living * product[c]!) / sum;
    cumulative[c + 1] = cumulative[c]! + share;
    mean += share * Math.exp(from + c * step);
  }
  return { nil: 1 - living, from: from - step / 2, step, cumulative, mean };
}
