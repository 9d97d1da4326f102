import type { Source } from './allocate-form.ts';
import type { Demand, Pair } from './demands.ts';
import type { Line, NeverMixed } from './never-mixed.ts';

/** Ways to fill one demand from lines that are kept apart from exactly the same others. */
export interface Camp {
  /** Places in the list of pairs. */
  readonly pairs: readonly number[];
  /** Groups they can give it at most. */
  readonly most: number;
}

export interface Camps {
  readonly camps: readonly Camp[];
  /** Of the camps of each set, one at most may give anything: places in the list of camps. */
  readonly rivals: readonly (readonly number[])[];
}

/**
 * What must not meet in a demand. Only a demand of a single wish for several groups has camps, and only where
 * lines that could fill it are never mixed; lines that all others get on with belong to none.
 */
export function campsOf(
  demands: readonly Demand[],
  cultures: readonly Source[],
  pairs: readonly Pair[],
  neverMixed: NeverMixed,
): Camps {
  const camps: Camp[] = [];
  const rivals: number[][] = [];
  demands.forEach(({ wishes, groups }, d) => {
    if (wishes.length > 1 || groups === 1) return;
    const byLine = new Map<Line, number[]>();
    pairs.forEach(({ demand, culture }, p) => {
      if (demand !== d) return;
      const { line } = cultures[culture]!;
      byLine.set(line, [...(byLine.get(line) ?? []), p]);
    });
    const own = alike([...byLine.keys()], neverMixed);
    for (const set of rivalsAmong(own, neverMixed)) rivals.push(set.map((i) => camps.length + i));
    for (const lines of own) {
      const of = lines.flatMap((line) => byLine.get(line)!);
      const most = of.reduce((sum, p) => sum + pairs[p]!.most, 0);
      camps.push({ pairs: of, most: Math.min(groups, most) });
    }
  });
  return { camps, rivals };
}

/** Lines that are never mixed with some, those with the same ones together: they get on with each other. */
function alike(lines: readonly Line[], neverMixed: NeverMixed): Line[][] {
  const found = new Map<string, Line[]>();
  for (const line of lines) {
    const foes = lines.flatMap((other, i) => (neverMixed(line, other) ? [i] : []));
    if (foes.length === 0) continue;
    const key = foes.join(' ');
    found.set(key, [...(found.get(key) ?? []), line]);
  }
  return [...found.values()];
}

/** Sets of camps that are all kept apart from each other, until each two that are stand in a set together. */
function rivalsAmong(camps: readonly (readonly Line[])[], neverMixed: NeverMixed): number[][] {
  const apart = (a: number, b: number) => neverMixed(camps[a]![0]!, camps[b]![0]!);
  const said = new Set<string>();
  const sets: number[][] = [];
  for (let a = 0; a < camps.length; a += 1)
    for (let b = a + 1; b < camps.length; b += 1) {
      if (!apart(a, b) || said.has(`${a} ${b}`)) continue;
      const set = [a, b];
      for (let c = 0; c < camps.length; c += 1)
        if (!set.includes(c) && set.every((one) => apart(one, c))) set.push(c);
      set.sort((one, other) => one - other);
      for (const one of set) for (const other of set) said.add(`${one} ${other}`);
      sets.push(set);
    }
  return sets;
}

/** Which camps give something. */
export function campsUsed({ camps }: Camps, fill: readonly number[]): boolean[] {
  return camps.map(({ pairs }) => pairs.some((p) => fill[p]! > 0));
}
