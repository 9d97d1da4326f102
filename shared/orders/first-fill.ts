import { lineKey, type Part } from './demands.ts';
import type { Fill } from './problems.ts';

/**
 * A first answer, good enough where time runs out: by priority and then by size, each demand from the cultures
 * that are touched already, then from those with the most left.
 */
export function firstFill(part: Part): Fill {
  const { demands, cultures, pairs } = part;
  const mayJoin = joining(part);
  const left = cultures.map(({ spare }) => spare);
  const touched = cultures.map(() => false);
  const fill = pairs.map(() => 0);
  const order = demands
    .map((_, d) => d)
    .sort(
      (a, b) => demands[b]!.priority - demands[a]!.priority || demands[b]!.size - demands[a]!.size || a - b,
    );
  for (const d of order) {
    const { groups, size, separate } = demands[d]!;
    const lines = new Set<string>();
    let open = groups;
    const sources = pairs.flatMap(({ demand, culture }, p) => (demand === d ? [{ culture, p }] : []));
    sources.sort((a, b) => {
      const before = Number(touched[b.culture]) - Number(touched[a.culture]);
      return before || left[b.culture]! - left[a.culture]! || a.p - b.p;
    });
    for (const { culture, p } of sources) {
      const line = lineKey(cultures[culture]!);
      if ((separate && lines.has(line)) || !mayJoin(p, fill)) continue;
      const taken = Math.min(open, pairs[p]!.most, Math.floor(left[culture]! / size));
      if (taken === 0) continue;
      fill[p] = taken;
      open -= taken;
      left[culture] = left[culture]! - taken * size;
      touched[culture] = true;
      lines.add(line);
    }
  }
  return fill;
}

/** Whether a pair may give beside what gives already. */
function joining({ camps, rivals }: Part): (pair: number, fill: Fill) => boolean {
  const others = new Map<number, number[]>();
  for (const set of rivals)
    for (const camp of set) {
      const pairs = set.flatMap((other) => (other === camp ? [] : camps[other]!.pairs));
      for (const pair of camps[camp]!.pairs) others.set(pair, [...(others.get(pair) ?? []), ...pairs]);
    }
  return (pair, fill) => (others.get(pair) ?? []).every((other) => fill[other] === 0);
}
