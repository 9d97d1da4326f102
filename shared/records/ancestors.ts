/**
 * The members of a lineage that reach themselves over their parents. Takes off, again and again, who has no
 * parent left, then who has no child left; what remains lies on a cycle (or between two).
 *
 * @example ownAncestors(new Map([['A', ['B']], ['B', ['A']], ['C', ['A']]])) // Set { 'A', 'B' }
 */
export function ownAncestors(parentsOf: ReadonlyMap<string, readonly string[]>): Set<string> {
  const childrenOf = new Map<string, string[]>();
  for (const [code, parents] of parentsOf) {
    for (const parent of parents) {
      const children = childrenOf.get(parent);
      if (children) children.push(code);
      else childrenOf.set(parent, [code]);
    }
  }
  const left = new Set(parentsOf.keys());
  takeOffEnds(left, parentsOf, childrenOf);
  takeOffEnds(left, childrenOf, parentsOf);
  return left;
}

type Links = ReadonlyMap<string, readonly string[]>;

function takeOffEnds(left: Set<string>, onward: Links, back: Links): void {
  const open = new Map<string, number>();
  for (const code of left) open.set(code, (onward.get(code) ?? []).filter((other) => left.has(other)).length);
  const ends = [...left].filter((code) => open.get(code) === 0);
  for (let code = ends.pop(); code !== undefined; code = ends.pop()) {
    left.delete(code);
    for (const other of back.get(code) ?? []) {
      if (!left.has(other)) continue;
      open.set(other, open.get(other)! - 1);
      if (open.get(other) === 0) ends.push(other);
    }
  }
}
