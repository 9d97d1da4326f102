import { fromEpochDay, toEpochDay } from '../../days.ts';
import { CalculationError } from '../../faults.ts';
import { logSumExp } from '../../numbers/log-gamma.ts';
import { coordinate, logSlopeOn, valueOn } from './axis.ts';
import { extentOf, fits, fitted, keptWithin, reachesBeyond } from './fit.ts';
import type { PopulationEvent, PopulationProfile, PopulationStart } from './form.ts';
import { cutExtinct, grow } from './grow.ts';
import { COLUMNS, type Lattice, logKAt, ROWS, rAxisOf } from './lattice.ts';
import { likelihoodOf } from './likelihood.ts';
import { makeNodes, type Nodes, writeNormal } from './nodes.ts';
import { observe } from './observe.ts';
import { carryOver } from './regrid.ts';
import { add, dieOff, remove } from './shift.ts';
import { type Opening, type PopulationState, pack, unpack } from './state.ts';
import { isCount, type Step, stepOf } from './steps.ts';

const DAYS_A_WEEK = 7;
const EARLY_COUNTS = 3;
const EARLY_STEPS = 10;
/** Events that are kept to be gone through again: about 12 kB, several years of most cultures. */
const MOST_STEPS = 400;
const MOST_FITTINGS = 8;
const MOST_GAINED = 0.1;
/** A count less likely than e to this power under everything that is thought possible contradicts it. */
const IMPOSSIBLE = -650;

/** What is known of a culture on the day it is founded. */
export function startState(start: PopulationStart, profile: PopulationProfile): PopulationState {
  const opening: Opening = {
    day: toEpochDay(start.date),
    logAnimals: Math.log(start.animals),
    animalsSd: start.sdLog,
    logK: Math.log(profile.capacity.median),
    kSd: profile.capacity.sdLog,
    logR: Math.log(profile.growthPerWeek.median),
    rSd: profile.growthPerWeek.sdLog,
  };
  const lattice = startLattice(opening);
  const nodes = pack(startNodes(opening, lattice));
  return { day: opening.day, processSd: profile.processSd, opening, steps: [], lattice, nodes };
}

export type Arrived = (lattice: Lattice, nodes: Nodes) => void;

/**
 * What is known after one more event: the state is moved to the event's day, then the event is applied.
 * Pure; the state given stays as it is. Costs milliseconds, whatever went before; only a count that comes as
 * a surprise has the events gone through again, at less than a millisecond each.
 *
 * Errors: CalculationError (path: the event's own field) where the event is earlier than the state, where a
 * count cannot be estimated from, or where nothing that is thought possible explains it.
 *
 * `arrived` is shown what is known on the event's day before the event; it must leave that as it is.
 */
export function applyEvent(
  state: PopulationState,
  event: PopulationEvent,
  arrived?: Arrived,
): PopulationState {
  const step = stepOf(event);
  if (step.day < state.day) {
    throw new CalculationError(`is before ${fromEpochDay(state.day)}, up to which events are known`, 'date');
  }
  const steps = remembered(state, step);
  const nodes = unpack(state.nodes);
  advance(nodes, state.lattice, state.processSd, step.day - state.day);
  arrived?.(state.lattice, nodes);
  happen(nodes, step);
  if (!isCount(step)) return { ...state, day: step.day, steps, nodes: pack(nodes) };
  const after = counted(state, nodes, step, event);
  return { ...state, day: step.day, steps, lattice: after.lattice, nodes: pack(after.nodes) };
}

/**
 * Takes in a count. `first` are the nodes after it on the state's own lattice. Where that lattice is too
 * wide, too narrow or beside the weights now, one is fitted to what is thought after the count, and the count
 * is taken in on the new one: carried over from the old nodes if the weights still lie among them, and
 * otherwise, after a surprise or while little is known, by going through all events again.
 */
function counted(state: PopulationState, first: Nodes, step: Step, event: PopulationEvent): Weighed {
  refuseTheImpossible(state, first, event);
  const extent = extentOf(state.lattice, first.logWeight);
  if (fits(state.lattice, extent)) return { lattice: state.lattice, nodes: first };
  const again = state.steps !== null && (isEarly(state.steps) || reachesBeyond(extent));
  const carried = again ? null : refitted(state, first, step, 'carried');
  if (carried !== null && (carried.good || state.steps === null)) return carried;
  return refitted(state, first, step, 'anew');
}

interface Weighed {
  readonly lattice: Lattice;
  readonly nodes: Nodes;
}

/** Fits the lattice to the weights until it fits, the nodes on it carried over or worked out anew. */
function refitted(
  state: PopulationState,
  first: Nodes,
  step: Step,
  how: 'carried' | 'anew',
): Weighed & { good: boolean } {
  let { lattice } = state;
  let nodes = first;
  const known = logSumExp(state.nodes.logWeight);
  for (let fittings = 0; fittings < MOST_FITTINGS; fittings += 1) {
    const extent = extentOf(lattice, nodes.logWeight);
    if (fits(lattice, extent)) return { lattice, nodes, good: true };
    let next = fitted(lattice, extent);
    if (how === 'carried') next = keptWithin(next, state.lattice);
    const fresh =
      how === 'carried' ? carryOver(state.lattice, unpack(state.nodes), next) : throughEvents(state, next);
    // A part of what was known cannot weigh more than all of it: then the interpolation went astray.
    if (how === 'carried' && !(logSumExp(fresh.logWeight) <= known + MOST_GAINED)) break;
    run(fresh, next, state.processSd, state.day, step);
    if (Number.isNaN(logSumExp(fresh.logWeight))) break;
    lattice = next;
    nodes = fresh;
  }
  return { lattice, nodes, good: false };
}

/** Lets all nodes grow to another day, or all whose log weight is not less than `least`. */
export function advance(
  nodes: Nodes,
  lattice: Lattice,
  processSd: number,
  days: number,
  least = Number.NEGATIVE_INFINITY,
): void {
  if (days === 0) return;
  const weeks = days / DAYS_A_WEEK;
  const noise = processSd * Math.sqrt(weeks);
  for (let i = 0; i < lattice.rows; i += 1) {
    const logK = logKAt(lattice, i);
    const axis = rAxisOf(lattice, i);
    for (let j = 0; j < lattice.columns; j += 1) {
      const node = i * lattice.columns + j;
      if (nodes.alive[node] === Number.NEGATIVE_INFINITY || nodes.logWeight[node]! < least) continue;
      grow(nodes, node, Math.exp(valueOn(axis, coordinate(lattice.columns, j))) * weeks, logK, noise);
      cutExtinct(nodes, node);
    }
  }
}

function run(nodes: Nodes, lattice: Lattice, processSd: number, from: number, step: Step): void {
  advance(nodes, lattice, processSd, step.day - from);
  happen(nodes, step);
}

function happen(nodes: Nodes, step: Step): void {
  const [value, second] = step.values;
  if (isCount(step)) {
    let highest = 0;
    for (let n = 0; n < nodes.count; n += 1)
      highest = Math.max(highest, nodes.center[n]! + 6 * nodes.spread[n]!);
    const likelihood = likelihoodOf(step, highest);
    for (let n = 0; n < nodes.count; n += 1) observe(nodes, n, likelihood);
    return;
  }
  for (let n = 0; n < nodes.count; n += 1) {
    if (step.kind === 'removed') remove(nodes, n, value);
    else if (step.kind === 'added') add(nodes, n, value);
    else dieOff(nodes, n, value, second);
  }
}

function refuseTheImpossible(state: PopulationState, nodes: Nodes, event: PopulationEvent): void {
  let before = Number.NEGATIVE_INFINITY;
  let after = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < nodes.count; n += 1) {
    before = Math.max(before, state.nodes.logWeight[n]!);
    after = Math.max(after, nodes.logWeight[n]!);
  }
  if (after - before > IMPOSSIBLE) return;
  throw new CalculationError(
    'contradicts what went before: by the start, the events and the priors there cannot be so many or so few. ' +
      'Is an addition, a die-off or a wrong number missing before it?',
    whatWasCounted(event),
  );
}

/** The field that holds what was counted. */
function whatWasCounted(event: PopulationEvent): string {
  if (event.kind !== 'count') return 'kind';
  if (event.method === 'removal') return 'catches';
  return event.method === 'mark-recapture' ? 'recaptured' : 'counted';
}

function remembered(state: PopulationState, step: Step): readonly Step[] | null {
  return state.steps === null || state.steps.length === MOST_STEPS ? null : [...state.steps, step];
}

/** While there were few counts, the weights still change too much from one to the next to be carried over. */
function isEarly(steps: readonly Step[]): boolean {
  return steps.length <= EARLY_STEPS && steps.filter(isCount).length <= EARLY_COUNTS;
}

/** What the state knows, worked out anew on another lattice from all its events. */
function throughEvents(state: PopulationState, lattice: Lattice): Nodes {
  const nodes = startNodes(state.opening, lattice);
  let day = state.opening.day;
  for (const step of state.steps ?? []) {
    run(nodes, lattice, state.processSd, day, step);
    day = step.day;
  }
  return nodes;
}

function startLattice(opening: Opening): Lattice {
  const rows = opening.kSd > 0 ? ROWS : 1;
  return {
    rows,
    columns: opening.rSd > 0 ? COLUMNS : 1,
    k: { center: opening.logK, scale: opening.kSd > 0 ? opening.kSd : 1, skew: 0 },
    rCenter: new Float64Array(rows).fill(opening.logR),
    rLogScale: new Float64Array(rows).fill(opening.rSd > 0 ? Math.log(opening.rSd) : 0),
    rSkew: new Float64Array(rows),
  };
}

/** The priors at the nodes: their densities times the size of the lattice's cells. */
function startNodes(opening: Opening, lattice: Lattice): Nodes {
  const { rows, columns } = lattice;
  const nodes = makeNodes(rows * columns);
  for (let i = 0; i < rows; i += 1) {
    const u = coordinate(rows, i);
    const k = rows === 1 ? 0 : (valueOn(lattice.k, u) - opening.logK) / opening.kSd;
    const axis = rAxisOf(lattice, i);
    for (let j = 0; j < columns; j += 1) {
      const node = i * columns + j;
      const v = coordinate(columns, j);
      const r = columns === 1 ? 0 : (valueOn(axis, v) - opening.logR) / opening.rSd;
      nodes.logWeight[node] = -0.5 * (k * k + r * r) + logSlopeOn(lattice.k, u) + logSlopeOn(axis, v);
      writeNormal(nodes, node, opening.logAnimals, opening.animalsSd);
      cutExtinct(nodes, node);
    }
  }
  return nodes;
}
