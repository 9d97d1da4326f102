import { fromEpochDay, toEpochDay } from '../../days.ts';
import { CalculationError } from '../../faults.ts';
import { logSumExp } from '../../numbers/log-gamma.ts';
import { type ConstantPieces, constantPieces } from './constants.ts';
import { advance, applyEvent } from './filter.ts';
import type { PopulationEvent } from './form.ts';
import { type Distribution, distributionBy, distributionOf, quantile, sharesOf } from './mixture.ts';
import type { Nodes } from './nodes.ts';
import { type PopulationState, unpack } from './state.ts';

const DAYS_A_WEEK = 7;
/** Nodes with a smaller share than this are not carried into the weeks ahead: a few in a thousand, all in all. */
const CARRIED = 2e-4;

/** The distributions of N that all answers about a culture are read from. */
export interface Outlook {
  readonly asOf: string;
  readonly now: Distribution;
  /** N / K on the same day. */
  readonly fullness: Distribution;
  /** N one week after asOf, two weeks after, ... */
  readonly weeks: readonly { readonly date: string; readonly number: Distribution }[];
  /** r and K, which do not change. */
  readonly constants: ConstantPieces;
}

/** An equal-tailed interval with its median. */
export interface Band {
  readonly median: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Moves the state to a day and on from there in weekly steps, without any further event.
 *
 * Errors: CalculationError (path asOf) where the day is before the state's last event.
 */
export function outlookFrom(state: PopulationState, asOf: string, horizonWeeks: number): Outlook {
  const nodes = nodesOnDay(state, asOf);
  const { lattice } = state;
  const shares = sharesOf(lattice, nodes.logWeight);
  const now = distributionBy(shares, nodes, 'N');
  const fullness = distributionBy(shares, nodes, 'N/K');
  const carried = sharesOf(lattice, nodes.logWeight, CARRIED);
  const least = logSumExp(nodes.logWeight) + Math.log(CARRIED);
  const weeks: { date: string; number: Distribution }[] = [];
  for (let week = 1; week <= horizonWeeks; week += 1) {
    advance(nodes, lattice, state.processSd, DAYS_A_WEEK, least);
    const date = fromEpochDay(toEpochDay(asOf) + week * DAYS_A_WEEK);
    weeks.push({ date, number: distributionBy(carried, nodes, 'N') });
  }
  return { asOf, now, fullness, weeks, constants: constantPieces(state) };
}

/**
 * How many animals on a day, from what was known before it (nothing that happened on the day itself unless
 * the state already holds it).
 *
 * Errors: CalculationError (path asOf) where the day is before the state's last event.
 */
export function numberOn(state: PopulationState, onDay: string, level: number): Band {
  return bandOf(distributionOf(state.lattice, nodesOnDay(state, onDay), 'N'), level);
}

/**
 * One more event, and how many animals there are just before and just after it: the same as `numberOn`,
 * `applyEvent` and `numberOn` again, for less work. Errors: as `applyEvent`.
 */
export function follow(
  state: PopulationState,
  event: PopulationEvent,
  level: number,
): { state: PopulationState; before: Band; after: Band } {
  let before: Band = { median: 0, lower: 0, upper: 0 };
  const next = applyEvent(state, event, (lattice, nodes) => {
    before = bandOf(distributionOf(lattice, nodes, 'N'), level);
  });
  return { state: next, before, after: numberOn(next, event.date, level) };
}

export function bandOf(distribution: Distribution, level: number): Band {
  const tail = (1 - level) / 2;
  return {
    median: quantile(distribution, 0.5),
    lower: quantile(distribution, tail),
    upper: quantile(distribution, 1 - tail),
  };
}

/** The nodes moved to a day. Errors: CalculationError (path asOf) where it is before the state's last event. */
export function nodesOnDay(state: PopulationState, onDay: string): Nodes {
  const days = toEpochDay(onDay) - state.day;
  if (days < 0) {
    throw new CalculationError(`is before ${fromEpochDay(state.day)}, up to which events are known`, 'asOf');
  }
  const nodes = unpack(state.nodes);
  advance(nodes, state.lattice, state.processSd, days);
  return nodes;
}
