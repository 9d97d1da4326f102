import type { Lattice } from './lattice.ts';
import { makeNodes, type Nodes } from './nodes.ts';
import type { Step } from './steps.ts';

/** The start and the priors, in logarithms. */
export interface Opening {
  readonly day: number;
  readonly logAnimals: number;
  readonly animalsSd: number;
  readonly logK: number;
  readonly kSd: number;
  readonly logR: number;
  readonly rSd: number;
}

/**
 * All that is known of a culture after its events so far. Plain data: store it with `encodeState`. The
 * numbers are kept at stored precision, so that going on from a stored state, or from any earlier one,
 * gives the same bits as going on from memory.
 */
export interface PopulationState {
  /** Days since 1970-01-01 of the last event. */
  readonly day: number;
  readonly processSd: number;
  readonly opening: Opening;
  /** All events so far; null where there were too many to keep. */
  readonly steps: readonly Step[] | null;
  readonly lattice: Lattice;
  readonly nodes: StoredNodes;
}

/** `Nodes` at stored precision. */
export interface StoredNodes {
  readonly logWeight: Float32Array;
  readonly alive: Float32Array;
  readonly center: Float32Array;
  readonly spread: Float32Array;
  /** Thousandths. */
  readonly shape: Int16Array;
}

const SHAPE_UNIT = 1000;
const MOST_SHAPE = 32.7;
/** Larger than any stored shape: makes all sums positive, so that cutting off the fraction rounds. */
const SHIFT = 40_000;

export function pack(nodes: Nodes): StoredNodes {
  let top = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < nodes.count; n += 1) top = Math.max(top, nodes.logWeight[n]!);
  const logWeight = new Float32Array(nodes.count);
  for (let n = 0; n < nodes.count; n += 1) logWeight[n] = nodes.logWeight[n]! - top;
  const shape = new Int16Array(nodes.shape.length);
  for (let i = 0; i < shape.length; i += 1) {
    const value = nodes.shape[i]!;
    shape[i] = ((Math.min(value, MOST_SHAPE) * SHAPE_UNIT + SHIFT + 0.5) | 0) - SHIFT;
  }
  return {
    logWeight,
    alive: new Float32Array(nodes.alive),
    center: new Float32Array(nodes.center),
    spread: new Float32Array(nodes.spread),
    shape,
  };
}

export function unpack(stored: StoredNodes): Nodes {
  const nodes = makeNodes(stored.logWeight.length);
  nodes.logWeight.set(stored.logWeight);
  nodes.alive.set(stored.alive);
  nodes.center.set(stored.center);
  nodes.spread.set(stored.spread);
  for (let i = 0; i < nodes.shape.length; i += 1) nodes.shape[i] = stored.shape[i]! / SHAPE_UNIT;
  return nodes;
}
