import { type Figure, figureOf, type Middle, pickShown } from './page-figure.ts';
import { byBranch, type Forest, type Member } from './page-forest.ts';

/** So many cultures of one drawing can still be read; what does not fit is folded into boxes. */
export const figureBudget = 20;
/** Around one culture there may be more: whoever asks for it looks for something. */
const focusBudget = 40;
/** Cultures drawn on one page of an overview. */
const pageBudget = 72;
/** Cultures that neither came from nor went into another stand together, so many in one drawing. */
const aloneTogether = 36;

export type Overview = { figures: Figure[]; page: number; pages: number };

/** Trees that were mixed with one another are drawn together as long as all of it fits. */
function joinTrees(roots: readonly Member[], find: Forest['find']): Member[][] {
  const rootOf = (member: Member): Member => {
    let top = member;
    while (top.parent) top = top.parent;
    return top;
  };
  const groups = new Map(roots.map((root) => [root, [root]]));
  const sizeOf = (group: readonly Member[]) => group.reduce((total, { size }) => total + size, 0);
  const walk = (member: Member): Member[] => [member, ...member.children.flatMap(walk)];
  for (const root of roots) {
    if (root.size > figureBudget) continue;
    for (const { from, to } of walk(root).flatMap(({ outOf }) => outOf)) {
      const [one, other] = [from, to].map((code) => groups.get(rootOf(find(code)!))!);
      if (!one || !other || one === other || sizeOf(one) + sizeOf(other) > figureBudget) continue;
      one.push(...other);
      for (const joined of other) groups.set(joined, one);
    }
  }
  return [...new Set(groups.values())].map((group) => group.sort(byBranch));
}

const isAlone = ([first, ...others]: readonly Member[]) =>
  others.length === 0 && first?.size === 1 && first.into.length === 0;

const keptIn = (group: readonly Member[]) =>
  group.reduce((total, { keptInBranch }) => total + keptInBranch, 0);

type Sheet = { cost: number; draw: () => Figure };

function sheetsOf({ roots, find }: Forest): Sheet[] {
  const groups = joinTrees(roots, find);
  const trees = groups
    .filter((group) => !isAlone(group))
    .sort((a, b) => keptIn(b) - keptIn(a) || byBranch(a[0]!, b[0]!));
  const alone = groups.filter(isAlone).flat().sort(byBranch);
  const drawTree = (group: Member[]) => () =>
    figureOf(
      pickShown(group, [], { budget: figureBudget, depth: Number.MAX_SAFE_INTEGER, middle: null }),
      find,
    );
  const sheets: Sheet[] = trees.map((group) => ({
    cost: Math.min(
      figureBudget,
      group.reduce((total, { size }) => total + size, 0),
    ),
    draw: drawTree(group),
  }));
  for (let i = 0; i < alone.length; i += aloneTogether) {
    const together = alone.slice(i, i + aloneTogether);
    sheets.push({ cost: together.length, draw: () => figureOf(new Set(together), find) });
  }
  return sheets;
}

/**
 * The whole forest, page by page: the trees with the most kept cultures first, each folded until it can be read,
 * then the cultures that stand alone. A page that is not there is the last one.
 */
export function overviewOf(forest: Forest, page: number): Overview {
  const pages: Sheet[][] = [];
  let room = 0;
  for (const sheet of sheetsOf(forest)) {
    if (sheet.cost > room || pages.length === 0) {
      pages.push([]);
      room = pageBudget;
    }
    pages.at(-1)!.push(sheet);
    room -= sheet.cost;
  }
  const current = Math.max(1, Math.min(page, pages.length));
  const figures = (pages[current - 1] ?? []).map(({ draw }) => draw());
  return { figures, page: current, pages: Math.max(1, pages.length) };
}

/** Where a culture's animals came from, so many steps back: splits and mixings alike. */
function ancestorsOf(focus: Member, steps: number, find: Forest['find']): Set<Member> {
  const found = new Set<Member>();
  let edge = [focus];
  for (let step = 0; step < steps && edge.length > 0; step += 1) {
    edge = edge
      .flatMap(({ into }) => into.flatMap(({ from }) => find(from) ?? []))
      .filter((member) => member !== focus && !found.has(member));
    for (const member of edge) found.add(member);
  }
  return found;
}

/**
 * One culture with its ancestors and descendants, so many steps up and down; of its children the first `skip` are
 * passed over. Null for a code that is not in the forest.
 */
export function around(
  forest: Forest,
  code: string,
  { up, down, skip }: { up: number; down: number; skip: number },
): Figure | null {
  const focus = forest.find(code);
  if (!focus) return null;
  const fed = down > 0 ? focus.outOf.flatMap(({ to }) => forest.find(to) ?? []) : [];
  const others = fed.filter(({ parent }) => parent !== focus);
  const fixed = [...ancestorsOf(focus, up, forest.find), ...others];
  const middle: Middle = { member: focus, skip: Math.min(skip, focus.children.length) };
  const budget = focusBudget + fixed.length;
  return figureOf(pickShown([focus], fixed, { budget, depth: down, middle }), forest.find, middle);
}
