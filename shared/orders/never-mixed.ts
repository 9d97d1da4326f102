/** A line, or null for cultures that belong to none. */
export type Line = string | null;

/** Whether animals of two lines must not come together. */
export type NeverMixed = (one: Line, other: Line) => boolean;

/** What a list of pairs says, in either order; nothing is kept apart from itself. */
export function neverMixedBy(pairs: readonly (readonly [Line, Line])[]): NeverMixed {
  const known = new Map<Line, Set<Line>>();
  const add = (one: Line, other: Line) => known.set(one, (known.get(one) ?? new Set()).add(other));
  for (const [one, other] of pairs) {
    add(one, other);
    add(other, one);
  }
  return (one, other) => one !== other && known.get(one)?.has(other) === true;
}

/** So many choices are looked at; more lines kept apart in so tangled a way do not come up. */
const MOST_STEPS = 5_000;

/**
 * The most groups that can come together out of what each line can give, where some lines are never mixed.
 *
 * Branches on the line that is kept apart from most others: with it, or without it. After `MOST_STEPS` choices
 * each later one is taken with it, which may miss the most.
 *
 * @example mostTogether(new Map([['dusk', 2], ['dawn', 3], [null, 1]]), neverMixedBy([['dusk', 'dawn']])) // 4
 */
export function mostTogether(groups: ReadonlyMap<Line, number>, neverMixed: NeverMixed): number {
  let steps = 0;
  const most = (open: readonly Line[]): number => {
    steps += 1;
    const foes = open.map((one) => open.filter((other) => neverMixed(one, other)));
    const worst = foes.reduce((at, list, i) => (list.length > foes[at]!.length ? i : at), 0);
    if ((foes[worst]?.length ?? 0) === 0) return open.reduce((sum, one) => sum + groups.get(one)!, 0);
    const line = open[worst]!;
    const friends = open.filter((one) => one !== line && !foes[worst]!.includes(one));
    const taken = groups.get(line)! + most(friends);
    return steps > MOST_STEPS ? taken : Math.max(taken, most(open.filter((one) => one !== line)));
  };
  return most([...groups.keys()]);
}
