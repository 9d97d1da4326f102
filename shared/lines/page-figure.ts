import { byBranch, type GraphEdge, type Member } from './page-forest.ts';

/** What stands in a drawing of the graph. */
export type FigureNode =
  | { kind: 'culture'; key: string; code: string }
  /** Branches of a culture that are not drawn; the address that draws them. */
  | { kind: 'more'; key: string; of: string; count: number; kept: number; skip: number }
  /** A culture that animals came from and that is drawn elsewhere. */
  | { kind: 'elsewhere'; key: string; code: string };

export type FigureLink = { from: string; to: string; kind: GraphEdge['kind'] };

/** One drawing: its nodes in the order of the tree, as they are walked with the keyboard and stand in the table. */
export type Figure = { nodes: FigureNode[]; links: FigureLink[] };

/** The culture in the middle, and how many of its children are passed over because an earlier drawing showed them. */
export type Middle = { member: Member; skip: number };

type Open = { member: Member; depth: number };

const sooner = (a: Open, b: Open): boolean => {
  const dead = Number(a.member.keptInBranch === 0) - Number(b.member.keptInBranch === 0);
  return (dead || a.depth - b.depth || byBranch(a.member, b.member)) < 0;
};

const offered = (member: Member, middle: Middle | null) =>
  middle?.member === member ? member.children.slice(middle.skip) : member.children;

/**
 * Which cultures to draw of the branches below some that are drawn in any case: as many as fit, those near the
 * start first, and branches in which nothing is kept any more last.
 */
export function pickShown(
  starts: readonly Member[],
  fixed: readonly Member[],
  { budget, depth, middle }: { budget: number; depth: number; middle: Middle | null },
): Set<Member> {
  const shown = new Set([...fixed, ...starts]);
  const open: Open[] = [];
  const openUp = (member: Member, at: number) => {
    if (at > depth) return;
    for (const child of offered(member, middle))
      if (!shown.has(child)) open.push({ member: child, depth: at });
  };
  for (const start of starts) openUp(start, 1);
  while (shown.size < budget && open.length > 0) {
    let best = 0;
    for (let i = 1; i < open.length; i += 1) if (sooner(open[i]!, open[best]!)) best = i;
    const [{ member, depth: at }] = open.splice(best, 1) as [Open];
    shown.add(member);
    openUp(member, at + 1);
  }
  // A box that stands for a single culture takes as much room as the culture itself.
  for (const member of [...shown]) {
    const hidden = offered(member, middle).filter((child) => !shown.has(child));
    if (hidden.length === 1 && hidden[0]!.size === 1) shown.add(hidden[0]!);
  }
  return shown;
}

const sum = (members: readonly Member[], value: (member: Member) => number) =>
  members.reduce((total, member) => total + value(member), 0);

function boxOf(key: string, of: Member, hidden: readonly Member[], skip: number): FigureNode[] {
  if (hidden.length === 0) return [];
  const count = sum(hidden, ({ size }) => size);
  const kept = sum(hidden, ({ keptInBranch }) => keptInBranch);
  return [{ kind: 'more', key, of: of.code, count, kept, skip }];
}

/**
 * The boxes under a culture that stand for its branches that are not drawn. Those of the culture in the middle go on
 * after what is drawn; those of any other begin with its first branch.
 */
function boxesOf(member: Member, shown: ReadonlySet<Member>, middle: Middle | null): FigureNode[] {
  const isMiddle = middle?.member === member;
  const passed = isMiddle ? middle.skip : 0;
  const later = member.children.slice(passed);
  const hidden = later.filter((child) => !shown.has(child));
  const next = isMiddle ? passed + later.length - hidden.length : 0;
  return [
    ...boxOf(`before ${member.code}`, member, member.children.slice(0, passed), 0),
    ...boxOf(`more ${member.code}`, member, hidden, next),
  ];
}

/** The box or note that stands for a culture which is not drawn. */
function standInFor(
  code: string,
  find: (code: string) => Member | undefined,
  shown: ReadonlySet<Member>,
  boxes: ReadonlySet<string>,
) {
  for (let member = find(code); member?.parent; member = member.parent) {
    if (shown.has(member.parent)) {
      const box = [`more ${member.parent.code}`, `before ${member.parent.code}`].find((key) =>
        boxes.has(key),
      );
      if (box) return box;
    }
  }
  return `from ${code}`;
}

/** Draws the cultures that were picked: nodes in the order of the tree, and the links between them. */
export function figureOf(
  shown: ReadonlySet<Member>,
  find: (code: string) => Member | undefined,
  middle: Middle | null = null,
): Figure {
  const boxes = new Map([...shown].map((member) => [member, boxesOf(member, shown, middle)]));
  const boxKeys = new Set([...boxes.values()].flat().map(({ key }) => key));
  const nodes: FigureNode[] = [];
  const links = new Map<string, FigureLink>();
  const placed = new Set<string>();
  const link = (from: string, to: string, kind: FigureLink['kind']) =>
    links.set(`${from} ${to} ${kind}`, { from, to, kind });
  const place = (node: FigureNode) => {
    if (!placed.has(node.key)) nodes.push(node);
    placed.add(node.key);
  };
  const walk = (member: Member) => {
    for (const { from, kind } of member.into) {
      const source = find(from);
      const key = source && shown.has(source) ? from : standInFor(from, find, shown, boxKeys);
      if (key === `from ${from}`) place({ kind: 'elsewhere', key, code: from });
      link(key, member.code, kind);
    }
    place({ kind: 'culture', key: member.code, code: member.code });
    for (const child of member.children) if (shown.has(child)) walk(child);
    for (const box of boxes.get(member) ?? []) {
      place(box);
      link(member.code, box.key, 'split');
    }
  };
  const tops = [...shown].filter(({ parent }) => !parent || !shown.has(parent));
  for (const top of tops.sort(byBranch)) walk(top);
  return { nodes, links: [...links.values()] };
}
