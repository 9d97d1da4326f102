import { compareText } from './founding-order.ts';

export type GraphCulture = { code: string; foundedOn: string; isKept: boolean };

/** Animals that went from one culture into another: they founded it, or were put in later. */
export type GraphEdge = { from: string; to: string; kind: 'split' | 'mixing'; animals: number };

/** A culture in the forest of splits: each stands once, under the parent that gave it the most animals. */
export interface Member extends GraphCulture {
  readonly parent: Member | null;
  /** Branches in which a culture is kept come first, then the older ones. */
  readonly children: readonly Member[];
  /** Where its animals came from, also from cultures that are not in the forest. */
  readonly into: readonly GraphEdge[];
  /** Where its animals went, within the forest. */
  readonly outOf: readonly GraphEdge[];
  /** Cultures in its branch, itself included, and how many of them are kept. */
  readonly size: number;
  readonly keptInBranch: number;
}

export interface Forest {
  readonly roots: readonly Member[];
  find(code: string): Member | undefined;
}

type Growing = {
  -readonly [K in keyof Member]: Member[K] extends readonly (infer Item)[] ? Item[] : Member[K];
};

/** Branches with a kept culture first, then by founding, then by code. */
export function byBranch(a: Member, b: Member): number {
  return (
    Number(a.keptInBranch === 0) - Number(b.keptInBranch === 0) ||
    compareText(a.foundedOn, b.foundedOn) ||
    compareText(a.code, b.code)
  );
}

function mainParent(member: Growing, members: Map<string, Growing>): Growing | null {
  let best: GraphEdge | null = null;
  for (const edge of member.into) {
    if (edge.kind !== 'split' || !members.has(edge.from)) continue;
    const better = !best || edge.animals > best.animals;
    if (better || (edge.animals === best?.animals && compareText(edge.from, best.from) < 0)) best = edge;
  }
  return best ? (members.get(best.from) ?? null) : null;
}

/** Members in an order in which every parent comes before its children; what stands in a ring begins anew. */
function downwards(members: Iterable<Growing>): Growing[] {
  const all = [...members];
  const reached = new Set<Growing>();
  const walk = (start: Growing) => {
    const stack = [start];
    for (let next = stack.pop(); next; next = stack.pop()) {
      if (reached.has(next)) continue;
      reached.add(next);
      stack.push(...(next.children as Growing[]));
    }
  };
  for (const member of all) if (!member.parent) walk(member);
  for (const member of all) {
    if (reached.has(member)) continue;
    const parent = member.parent as Growing;
    parent.children.splice(parent.children.indexOf(member), 1);
    member.parent = null;
    walk(member);
  }
  return [...reached];
}

/**
 * The cultures of a species or a line as a forest: trees of splits, with all that was mixed between them.
 *
 * @example growForest([{ code: 'A', ... }, { code: 'B', ... }], [{ from: 'A', to: 'B', kind: 'split', animals: 12 }])
 * // one root, A, with the child B
 */
export function growForest(cultures: readonly GraphCulture[], edges: readonly GraphEdge[]): Forest {
  const members = new Map<string, Growing>(
    cultures.map((culture) => [
      culture.code,
      {
        ...culture,
        parent: null,
        children: [],
        into: [],
        outOf: [],
        size: 1,
        keptInBranch: culture.isKept ? 1 : 0,
      },
    ]),
  );
  for (const edge of edges) {
    const to = members.get(edge.to);
    if (!to || edge.from === edge.to) continue;
    to.into.push(edge);
    members.get(edge.from)?.outOf.push(edge);
  }
  for (const member of members.values()) {
    member.parent = mainParent(member, members);
    (member.parent as Growing | null)?.children.push(member);
  }
  const order = downwards(members.values());
  for (const { parent, size, keptInBranch } of order.reverse()) {
    const above = parent as Growing | null;
    if (!above) continue;
    above.size += size;
    above.keptInBranch += keptInBranch;
  }
  for (const member of order) member.children.sort(byBranch);
  return {
    roots: order.filter(({ parent }) => parent === null).sort(byBranch),
    find: (code) => members.get(code),
  };
}
