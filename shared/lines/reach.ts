/** A way from one node to another that is open on one day only. Nodes are whole numbers from 0. */
export interface Step {
  readonly day: number;
  readonly from: number;
  readonly to: number;
}

/** How nodes are reached; undefined where a node is not. */
export interface Reach {
  /** The first day on which each node can have been reached. */
  readonly days: readonly (number | undefined)[];
  /** How many steps it takes on the way shown. */
  readonly counts: readonly (number | undefined)[];
  /** The places in `steps` of the last step there; undefined for the start too. */
  readonly last: readonly (number | undefined)[];
}

/**
 * Who can have been reached from one node since a day, and first on which day. A step counts on or after the
 * day its own start was reached, so that several may follow each other on one day.
 *
 * Of the ways that reach a node on its first day the one shown goes on from the shown way of the node before
 * it, by fewest steps, then by the lowest number of the node before it, then by the first in the list. Every
 * step is taken up once and passes a heap (Dijkstra 1959, with days for distances): steps x log(steps).
 *
 * @example reach(2, [{ day: 3, from: 0, to: 1 }], 0, 1).days // [1, 3]
 */
export function reach(nodes: number, steps: readonly Step[], start: number, since: number): Reach {
  const outgoing: number[][] = Array.from({ length: nodes }, () => []);
  for (const [i, { from }] of steps.entries()) outgoing[from]!.push(i);
  const days = new Array<number | undefined>(nodes).fill(undefined);
  const counts = new Array<number | undefined>(nodes).fill(undefined);
  const last = new Array<number | undefined>(nodes).fill(undefined);
  /** Which of two steps is taken up first. Both start at nodes that were reached. */
  const sooner = (a: number, b: number): boolean => {
    const [one, other] = [steps[a]!, steps[b]!];
    const difference =
      one.day - other.day || counts[one.from]! - counts[other.from]! || one.from - other.from || a - b;
    return difference < 0;
  };
  const heap: number[] = [];
  const settle = (node: number, day: number, count: number) => {
    days[node] = day;
    counts[node] = count;
    for (const i of outgoing[node]!) {
      if (steps[i]!.day >= day && days[steps[i]!.to] === undefined) push(heap, i, sooner);
    }
  };
  settle(start, since, 0);
  for (let i = pop(heap, sooner); i !== undefined; i = pop(heap, sooner)) {
    const { day, from, to } = steps[i]!;
    if (days[to] !== undefined) continue;
    last[to] = i;
    settle(to, day, counts[from]! + 1);
  }
  return { days, counts, last };
}

type Sooner = (a: number, b: number) => boolean;

/** A binary heap in a list: the soonest stands first, each before the two at twice its place. */
function push(heap: number[], item: number, sooner: Sooner): void {
  let place = heap.length;
  heap.push(item);
  while (place > 0) {
    const above = (place - 1) >> 1;
    if (!sooner(item, heap[above]!)) break;
    heap[place] = heap[above]!;
    place = above;
  }
  heap[place] = item;
}

function pop(heap: number[], sooner: Sooner): number | undefined {
  const first = heap[0];
  const item = heap.pop();
  if (first === undefined || item === undefined || heap.length === 0) return first;
  let place = 0;
  for (;;) {
    let below = 2 * place + 1;
    if (below >= heap.length) break;
    if (below + 1 < heap.length && sooner(heap[below + 1]!, heap[below]!)) below += 1;
    if (!sooner(heap[below]!, item)) break;
    heap[place] = heap[below]!;
    place = below;
  }
  heap[place] = item;
  return first;
}
