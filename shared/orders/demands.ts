import type { AllocateQuestion, Source, Wish } from './allocate-form.ts';

/** Wishes that nothing tells apart but who asked; a wish for separate lines stands alone. */
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
export interface Part {
  readonly demands: readonly Demand[];
  /** By code. */
  readonly cultures: readonly Source[];
  readonly pairs: readonly Pair[];
}

/** The question in parts, each species by itself, in the order of its first wish. */
export function partsOf({ wanted, cultures }: AllocateQuestion): Part[] {
  const species = [...new Set(wanted.map((wish) => wish.species))];
  return species.map((one) => {
    const sources = cultures
      .filter((culture) => culture.species === one)
      .sort((a, b) => (a.code < b.code ? -1 : 1));
    const demands = demandsOf(wanted.filter((wish) => wish.species === one));
    const pairs = demands.flatMap((demand, d) =>
      sources.flatMap((culture, c): Pair[] => {
        const most = Math.min(mostGroups(demand.wishes[0]!, culture), demand.groups);
        return most > 0 ? [{ demand: d, culture: c, most }] : [];
      }),
    );
    return { demands, cultures: sources, pairs };
  });
}

/** How many whole groups like a wish's a culture holds: of a wish for separate lines, one. */
export function mostGroups(wish: Wish, culture: Source): number {
  if (culture.species !== wish.species || (wish.line !== null && culture.line !== wish.line)) return 0;
  const most = Math.floor(culture.spare / wish.groupSize);
  return wish.separateLines ? Math.min(1, most) : most;
}

/** What tells the line of a culture from every other: without one it is a line of its own. */
export function lineKey({ line, code }: Source): string {
  return line === null ? `culture ${code}` : `line ${line}`;
}

function demandsOf(wishes: readonly Wish[]): Demand[] {
  const alike = new Map<string, Wish[]>();
  for (const wish of wishes) {
    const { id, line, groupSize, priority, separateLines } = wish;
    const key = JSON.stringify([line, groupSize, priority, separateLines ? id : null]);
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
