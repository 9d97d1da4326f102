import { Graph, layout } from '@dagrejs/dagre';
import type { Figure, FigureLink, FigureNode } from '../../shared/lines/page-figure.ts';

export type PlacedNode = { node: FigureNode; x: number; y: number; width: number; height: number };
export type PlacedLink = FigureLink & { points: readonly (readonly [number, number])[] };

/** A figure laid out: boxes by their upper left corner, links as the points they pass. */
export type FigurePlan = { width: number; height: number; nodes: PlacedNode[]; links: PlacedLink[] };

/** What is used of the library, whose own types Node's way of finding modules does not reach. */
type Laid = { x: number; y: number };
type LayoutGraph = {
  setGraph(label: Record<string, unknown>): unknown;
  graph(): { width?: number; height?: number };
  setNode(key: string, size: { width: number; height: number }): unknown;
  setEdge(from: string, to: string, label: Record<string, unknown>, name: string): unknown;
  node(key: string): Laid;
  edge(from: string, to: string, name: string): { points?: Laid[] };
};
const newGraph = (): LayoutGraph => new Graph({ multigraph: true });

/** The graph while it is being laid out, with what stands between boxes that are further apart. */
type Columns = {
  sources(): string[];
  successors(key: string): string[];
  node(key: string): { rank: number; order?: number };
};

/** Puts a tree's boxes into each column in the order in which it is gone through: nothing crosses, so nothing is tried. */
function asGoneThrough(graph: Columns) {
  const next = new Map<number, number>();
  const put = (key: string) => {
    const box = graph.node(key);
    if (box.order !== undefined) return;
    box.order = next.get(box.rank) ?? 0;
    next.set(box.rank, box.order + 1);
    graph.successors(key).forEach(put);
  };
  graph.sources().forEach(put);
}

const layOut = (graph: LayoutGraph, isTree: boolean): void =>
  void layout(graph, isTree ? { customOrder: asGoneThrough } : {});

/** Whether every box but the first comes from one other. */
const isTree = ({ nodes, links }: Figure) =>
  links.length < nodes.length && new Set(links.map(({ to }) => to)).size === links.length;

const boxSizes: Record<FigureNode['kind'], { width: number; height: number }> = {
  culture: { width: 196, height: 70 },
  more: { width: 124, height: 38 },
  elsewhere: { width: 124, height: 34 },
};

const margin = 8;
const gapBeside = 12;
const gapAhead = 52;
const alonePerRow = 5;

const round = (value: number) => Math.round(value * 10) / 10;

/** Cultures without links, in rows. */
function planRows({ nodes }: Figure): FigurePlan {
  const { width, height } = boxSizes.culture;
  const placed = nodes.map((node, i) => ({
    node,
    ...boxSizes[node.kind],
    x: margin + (i % alonePerRow) * (width + gapBeside),
    y: margin + Math.floor(i / alonePerRow) * (height + gapBeside),
  }));
  const columns = Math.min(alonePerRow, nodes.length);
  const rows = Math.ceil(nodes.length / alonePerRow);
  return {
    width: 2 * margin + columns * width + Math.max(0, columns - 1) * gapBeside,
    height: 2 * margin + rows * height + Math.max(0, rows - 1) * gapBeside,
    nodes: placed,
    links: [],
  };
}

/**
 * Lays a figure out from left to right, the older to the left, with as few crossings as the layered method finds
 * (Sugiyama, Tagawa and Toda 1981). Depends on nothing but the kinds of the nodes and the links.
 */
export function planFigure(figure: Figure): FigurePlan {
  if (figure.links.length === 0) return planRows(figure);
  const graph = newGraph();
  graph.setGraph({
    rankdir: 'LR',
    // Gives trees the same columns as the usual way, which goes on trying for as long again.
    ranker: 'tight-tree',
    nodesep: gapBeside,
    ranksep: gapAhead,
    marginx: margin,
    marginy: margin,
  });
  for (const node of figure.nodes) graph.setNode(node.key, { ...boxSizes[node.kind] });
  for (const { from, to, kind } of figure.links)
    graph.setEdge(from, to, { weight: kind === 'split' ? 2 : 1 }, kind);
  layOut(graph, isTree(figure));
  const kinds = new Map(figure.nodes.map(({ key, kind }) => [key, kind]));
  const { width = 0, height = 0 } = graph.graph();
  return {
    width: Math.ceil(width),
    height: Math.ceil(height),
    nodes: figure.nodes.map((node) => {
      const { x, y } = graph.node(node.key);
      const size = boxSizes[node.kind];
      return { node, ...size, x: round(x - size.width / 2), y: round(y - size.height / 2) };
    }),
    links: figure.links.map((link) => ({ ...link, points: pointsOf(graph, link, kinds) })),
  };
}

/** A link leaves a box at the middle of its side and arrives at the middle of the other's, around those between. */
function pointsOf(
  graph: LayoutGraph,
  { from, to, kind }: FigureLink,
  kinds: Map<string, FigureNode['kind']>,
) {
  const [source, target] = [graph.node(from), graph.node(to)];
  const way = target.x >= source.x ? 1 : -1;
  const side = (key: string) => (way * boxSizes[kinds.get(key) ?? 'culture'].width) / 2;
  const passed = graph.edge(from, to, kind).points ?? [];
  return [
    { x: source.x + side(from), y: source.y },
    // Between neighbouring columns the middle is no corner to go round.
    ...(passed.length > 3 ? passed.slice(1, -1) : []),
    { x: target.x - side(to), y: target.y },
  ].map(({ x, y }) => [round(x), round(y)] as const);
}
