import { CalculationError } from '../faults.ts';
import type { AllocateQuestion, Wish } from './allocate-form.ts';
import { type Part, partsOf } from './demands.ts';
import { type Filled, fill, type Gap } from './fill.ts';
import { type NeverMixed, neverMixedBy } from './never-mixed.ts';
import type { Fill } from './problems.ts';
import { forgetSolver, loadSolver } from './solver.ts';
import { whyUnmet } from './unmet.ts';

export interface Allocation {
  readonly id: string;
  readonly code: string;
  readonly groups: number;
  readonly animals: number;
}

export interface Unmet {
  readonly id: string;
  readonly groups: number;
  readonly why: string;
}

export interface AllocateAnswer {
  /** By wish in the order of the list, then by code. */
  readonly allocations: readonly Allocation[];
  readonly unmet: readonly Unmet[];
  /** Whether it is proved that nothing better is left. */
  readonly optimal: boolean;
  /** How much better an answer could be at most; all 0 where it is optimal. */
  readonly gap: Gap;
}

/** More ways for a group to go from a culture to a wish than this would fill the memory. */
const MOST_PAIRS = 100_000;

/**
 * Which cultures fill which orders. A group comes from one culture, whole, and no culture gives more animals
 * than it can spare.
 *
 * The best by three rules, each only among what is best by those before it:
 * 1. The most groups of the highest priority (a higher number comes first; 1 where none is given), then the most
 *    of the next, and so on. No number of groups of a lower priority outweighs one of a higher.
 * 2. The fewest cultures that give anything.
 * 3. The most even rest: of each species, the smallest share of its spare animals that a culture that gives
 *    keeps is as large as can be (max-min).
 *
 * `line` takes from cultures of that line alone. `separateLines`: no two groups of the wish from one line, a
 * culture without a line being a line of its own. `apart`: lines that never meet in one wish, which is put together
 * where it arrives; so it holds for separate lines too. What a wish `has` already counts for both. Wishes that
 * nothing tells apart but their id are served in the order of the list.
 *
 * Method: mixed-integer linear programs, species by species, one for each rule and priority in turn, solved by
 * branch and cut within `timeLimitSeconds` of the solver's clock in all. No random numbers; where the time ends
 * it, `optimal` is false and `gap` says how much could be missing, and how far it came depends on the machine.
 * It keeps its thread busy that long.
 *
 * Units: animals, groups. Errors: CalculationError where there are too many wishes and cultures of a kind.
 *
 * @example (await allocate(allocateInput.parse({
 *   wanted: [{ id: 'o1', species: 's', groups: 3, groupSize: 10 }],
 *   cultures: [{ code: 'A', species: 's', spare: 20 }, { code: 'B', species: 's', spare: 45 },
 *     { code: 'C', species: 's', spare: 60 }] }))).allocations
 * // [{ id: 'o1', code: 'C', groups: 3, animals: 30 }]: one culture is enough, and C keeps half where B keeps a third
 */
export async function allocate(question: AllocateQuestion): Promise<AllocateAnswer> {
  const parts = partsOf(question);
  if (parts.reduce((sum, { pairs }) => sum + pairs.length, 0) > MOST_PAIRS) {
    throw new CalculationError('are too many to be weighed against so many cultures at once', 'wanted');
  }
  const filled = await fillAll(parts, question.timeLimitSeconds);
  const neverMixed = neverMixedBy(question.apart);
  const given = new Map<string, Allocation[]>();
  parts.forEach((part, i) => {
    for (const [id, allocations] of handOut(part, filled[i]!.fill)) given.set(id, allocations);
  });
  const gap = {
    groups: filled.reduce((sum, one) => sum + one.gap.groups, 0),
    cultures: filled.reduce((sum, one) => sum + one.gap.cultures, 0),
    shareLeft: filled.reduce((most, one) => Math.max(most, one.gap.shareLeft), 0),
  };
  return {
    allocations: question.wanted.flatMap(({ id }) => given.get(id) ?? []),
    unmet: question.wanted.flatMap((wish) => {
      return unmetOf(wish, given.get(wish.id) ?? [], question, neverMixed);
    }),
    optimal: isSure(gap),
    gap,
  };
}

const isSure = ({ groups, cultures, shareLeft }: Gap) => groups === 0 && cultures === 0 && shareLeft === 0;

/** Another go begins anew: with so much more time than the first it comes further. */
const MORE_TIME = 1.5;

/**
 * Each part gets its share of the time that those before it have left. What is left in the end goes to those whose
 * answer could still be better, one after the other.
 */
async function fillAll(parts: readonly Part[], seconds: number): Promise<Filled[]> {
  const highs = await loadSolver();
  try {
    let left = seconds;
    const filled = parts.map((part, i) => {
      const one = fill(highs, part, Math.max(0, left) / (parts.length - i));
      left -= one.seconds;
      return one;
    });
    const open = filled.flatMap((one, i) => (isSure(one.gap) ? [] : [i]));
    for (const [n, i] of open.entries()) {
      const share = left / (open.length - n);
      if (share < MORE_TIME * filled[i]!.seconds) continue;
      filled[i] = fill(highs, parts[i]!, share);
      left -= filled[i]!.seconds;
    }
    return filled;
  } catch (error) {
    forgetSolver();
    throw error;
  }
}

/** The groups of a demand among its wishes, in their order, from the cultures in theirs. */
function handOut({ demands, cultures, pairs }: Part, fill: Fill): Map<string, Allocation[]> {
  const given = new Map<string, Allocation[]>();
  demands.forEach(({ wishes, size }, d) => {
    const stock = pairs.flatMap(({ demand, culture }, p) =>
      demand === d && fill[p]! > 0 ? [{ code: cultures[culture]!.code, groups: fill[p]! }] : [],
    );
    for (const { id, groups } of wishes) {
      let open = groups;
      const allocations: Allocation[] = [];
      for (const lot of stock) {
        const taken = Math.min(open, lot.groups);
        if (taken > 0) allocations.push({ id, code: lot.code, groups: taken, animals: taken * size });
        open -= taken;
        lot.groups -= taken;
      }
      given.set(id, allocations);
    }
  });
  return given;
}

function unmetOf(
  wish: Wish,
  given: readonly Allocation[],
  { cultures }: AllocateQuestion,
  neverMixed: NeverMixed,
): Unmet[] {
  const got = given.reduce((sum, { groups }) => sum + groups, 0);
  if (got === wish.groups) return [];
  return [{ id: wish.id, groups: wish.groups - got, why: whyUnmet(wish, got, cultures, neverMixed) }];
}
