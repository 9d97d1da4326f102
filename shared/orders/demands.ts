import type { AllocateQuestion, Source, Wish } from './allocate-form.ts';
import { type Camps, campsOf } from './camps.ts';
import { type NeverMixed, neverMixedBy } from './never-mixed.ts';

/**
 * Wishes that nothing tells apart but who asked. A wish that has groups already stands alone, and so does one for
 * several where it matters which of them come together.
 */
export interface Demand {
  readonly size: number;
  readonly separate: boolean;
  readonly priority: number;
  readonly groups: number;
  /** In the order of the list. */
  readonly wishes: readonly Wish[];
}

/** A culture that can give a demand at least one whole group: how many at most. */
export interface Pair {
  readonly demand: number;
  readonly culture: number;
  readonly most: number;
}

/** The wishes and the cultures of one species: what happens in one does not touch another. */
export interface Part extends Camps {
  readonly demands: readonly Demand[];
  /** By code. */
  readonly cultures: readonly Source[];
  readonly pairs: readonly Pair[];
}

/** The question in parts, each species by itself, in the order of its first wish. */
export function partsOf({ wanted, cultures, apart }: AllocateQuestion): Part[] {
  const neverMixed = neverMixedBy(apart);
  const species = [...new Set(wanted.map((wish) => wish.species))];
  return species.map((one) => {
    const sources = cultures
      .filter((culture) => culture.species === one)
      .sort((a, b) => (a.code < b.code ? -1 : 1));
    const lines = [...new Set(sources.filter(({ spare }) => spare > 0).map(({ line }) => line))];
    const mixes = lines.some((a) => lines.some((b) => neverMixed(a, b)));
    const demands = demandsOf(
      wanted.filter((wish) => wish.species === one),
      mixes,
    );
    const pairs = demands.flatMap((demand, d) =>
      sources.flatMap((culture, c): Pair[] => {
        const most = Math.min(mostGroups(demand.wishes[0]!, culture, neverMixed), demand.groups);
        return most > 0 ? [{ demand: d, culture: c, most }] : [];
      }),
    );
    return { demands, cultures: sources, pairs, ...campsOf(demands, sources, pairs, neverMixed) };
  });
}

/**
 * How many whole groups like a wish's a culture holds: of a wish for separate lines, one. None where its line must
 * not join what the wish has already.
 */
export function mostGroups(wish: Wish, culture: Source, neverMixed: NeverMixed): number {
  if (culture.species !== wish.species || (wish.line !== null && culture.line !== wish.line)) return 0;
  if (!joins(wish, culture, neverMixed)) return 0;
  const most = Math.floor(culture.spare / wish.groupSize);
  return wish.separateLines ? Math.min(1, most) : most;
}

/** Whether a culture's groups may stand beside those that a wish has already. */
export function joins(wish: Wish, culture: Source, neverMixed: NeverMixed): boolean {
  return wish.has.every((other) => {
    const isOneLine = wish.separateLines && lineKey(other) === lineKey(culture);
    return !isOneLine && !neverMixed(other.line, culture.line);
  });
}

/** What tells the line of a culture from every other: without one it is a line of its own. */
export function lineKey({ line, code }: Pick<Source, 'line' | 'code'>): string {
  return line === null ? `culture ${code}` : `line ${line}`;
}

function demandsOf(wishes: readonly Wish[], mixes: boolean): Demand[] {
  const alike = new Map<string, Wish[]>();
  for (const wish of wishes) {
    const { id, line, groupSize, priority, separateLines, has, groups } = wish;
    const isAlone = separateLines || has.length > 0 || (mixes && line === null && groups > 1);
    const key = JSON.stringify([line, groupSize, priority, isAlone ? id : null]);
    alike.set(key, [...(alike.get(key) ?? []), wish]);
  }
  return [...alike.values()].map((same) => ({
    size: same[0]!.groupSize,
    separate: same[0]!.separateLines,
    priority: same[0]!.priority,
    groups: same.reduce((sum, { groups }) => sum + groups, 0),
    wishes: same,
  }));
}
