import type { Highs } from 'highs';
import type { Part } from './demands.ts';
import { firstFill } from './first-fill.ts';
import {
  type Fill,
  fewCulturesProblem,
  filledOf,
  isAllowed,
  mostGroupsProblem,
  type Settled,
  shareLeftOf,
  startOfFewCultures,
  startOfMostGroups,
  touchedOf,
} from './problems.ts';
import { type Problem, type Solved, solve } from './solver.ts';

/** By how much a better answer could differ, where none was ruled out in time. */
export interface Gap {
  /** Groups that could be filled beyond those that are. */
  readonly groups: number;
  /** Cultures that could be touched less, with as many groups filled. */
  readonly cultures: number;
  /** By how much the smallest share left in a culture could be larger. */
  readonly shareLeft: number;
}

export interface Filled {
  readonly fill: Fill;
  readonly gap: Gap;
  /** Of the solver's clock. */
  readonly seconds: number;
}

/** Of the time that is left, how much one question may take while others are still to come. */
const PART_OF_TIME = 0.6;
/** Less time than this is not worth a start. */
const TOO_SHORT = 0.005;
/** What a bound in real numbers may be off. */
const CLOSE = 1e-6;
/** By so many halvings the share that can be left is searched for, before it is raised by what is just better. */
const HALVINGS = 4;

/** One part on its way through the questions. */
interface Work {
  readonly highs: Highs;
  readonly part: Part;
  readonly settled: Settled;
  best: Fill;
  left: number;
}

/**
 * Fills the demands of one part: for each priority, the highest first, as many groups as can be; then from as
 * few cultures as can be; then so that the smallest share of its spare animals that a culture keeps is as large
 * as can be. Each is solved in whole numbers, the ones before it held to what they reached.
 */
export function fill(highs: Highs, part: Part, seconds: number): Filled {
  if (part.pairs.length === 0) return { fill: [], gap: { groups: 0, cultures: 0, shareLeft: 0 }, seconds: 0 };
  const settled: Settled = { levels: new Map(), touched: Infinity };
  const work: Work = { highs, part, settled, best: firstFill(part), left: seconds };
  let groups = 0;
  for (const priority of new Set(part.demands.map((d) => d.priority).sort((a, b) => b - a))) {
    groups += fillLevel(work, priority);
    settled.levels.set(priority, filledOf(part, work.best, priority));
  }
  const cultures = touchFew(work);
  settled.touched = touchedOf(part, work.best);
  const shareLeft = evenRest(work);
  return { fill: work.best, gap: { groups, cultures, shareLeft }, seconds: seconds - work.left };
}

/** Fills as many groups of a priority as can be; answers how many more could be. */
function fillLevel(work: Work, priority: number): number {
  const { part, settled } = work;
  const wanted = part.demands.reduce((sum, d) => sum + (d.priority === priority ? d.groups : 0), 0);
  const filled = () => filledOf(part, work.best, priority);
  if (filled() === wanted) return 0;
  const start = startOfMostGroups(part, work.best);
  const solved = attempt(work, mostGroupsProblem(part, settled, priority), PART_OF_TIME, start);
  keep(work, solved, (fill) => filledOf(part, fill, priority) > filled());
  if (solved?.proved) return 0;
  return Math.max(0, Math.min(wanted, Math.floor((solved?.bound ?? wanted) + CLOSE)) - filled());
}

/** Touches as few cultures as can be; answers how many fewer it could be. */
function touchFew(work: Work): number {
  const { part, settled } = work;
  const touched = () => touchedOf(part, work.best);
  if (touched() <= 1) return 0;
  const spare = part.cultures.map((culture) => culture.spare);
  const start = startOfFewCultures(part, work.best);
  const solved = attempt(work, fewCulturesProblem(part, settled, spare, null), PART_OF_TIME, start);
  keep(work, solved, (fill) => touchedOf(part, fill) < touched());
  if (solved?.proved) return 0;
  return Math.max(0, touched() - Math.max(1, Math.ceil((solved?.bound ?? 1) - CLOSE)));
}

/**
 * Raises the smallest share left: asks whether a larger one can be, first by halving what is still possible, then
 * by whatever is just larger, until none can. Answers by how much it could still be raised.
 *
 * With the share given, a culture is simply one that can spare less; asked for the share itself, a solver thinks
 * long that every culture could be touched a little.
 */
function evenRest(work: Work): number {
  const { part, settled } = work;
  if (settled.touched === 0) return 0;
  let highest = highestShare(work);
  for (let tries = 0; ; tries += 1) {
    const least = shareLeftOf(part, work.best);
    if (least >= highest - CLOSE) return 0;
    const wanted = tries < HALVINGS ? (least + highest) / 2 : least;
    const limits = part.cultures.map(({ spare }) => lessThan((1 - wanted) * spare));
    const problem = fewCulturesProblem(part, settled, limits, settled.touched);
    const solved = attempt(work, problem, 1, null);
    if (!solved?.proved) return highest - least;
    if (solved.values === null) {
      if (wanted === least) return 0;
      highest = wanted;
    } else if (!keep(work, solved, (fill) => shareLeftOf(part, fill) > least)) {
      return highest - least;
    }
  }
}

/** The largest whole number below another. */
function lessThan(animals: number): number {
  return Math.max(0, Math.ceil(animals - CLOSE) - 1);
}

/** No fill leaves a larger smallest share: the fewest animals that can leave, from the cultures with most to spare. */
function highestShare({ part, settled }: Work): number {
  let animals = 0;
  for (const [priority, groups] of settled.levels) {
    const sizes = part.demands.flatMap((d) => (d.priority === priority ? [d.size] : []));
    animals += groups * Math.min(...sizes);
  }
  const spare = part.cultures.map((culture) => culture.spare).sort((a, b) => b - a);
  const most = spare.slice(0, settled.touched).reduce((sum, one) => sum + one, 0);
  return 1 - animals / most;
}

/** Solves within a part of the time that is left; null where that is too short. */
function attempt(work: Work, problem: Problem, part: number, start: Fill | null): Solved | null {
  const seconds = work.left * part;
  if (seconds < TOO_SHORT) return null;
  const solved = solve(work.highs, problem, start, seconds);
  work.left = Math.max(0, work.left - solved.seconds);
  return solved;
}

/** Takes what was found where it is allowed and better; answers whether it was. */
function keep(work: Work, solved: Solved | null, isBetter: (fill: Fill) => boolean): boolean {
  if (!solved?.values) return false;
  const found = work.part.pairs.map((_, p) => Math.round(solved.values![p]!));
  if (!isAllowed(work.part, work.settled, found) || !isBetter(found)) return false;
  work.best = found;
  return true;
}
