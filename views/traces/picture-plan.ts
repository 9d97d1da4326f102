import type { Contact } from '../../shared/lines/form.ts';

/** Somebody on the picture: a culture or an order, and the contact that leads there. */
export type PictureNode = { name: string; isOrder: boolean; way: readonly Contact[] };

export type PlannedNode = {
  name: string;
  isOrder: boolean;
  /** The contact that leads there; none for the culture it begins at. */
  by: Contact | null;
  x: number;
  y: number;
  /** Where the line to it begins: the culture before it. */
  from: { x: number; y: number } | null;
};
export type PicturePlan = {
  nodes: PlannedNode[];
  /** A column for each day, at its left edge; days too narrow to be named say nothing. */
  days: { day: string; x: number; named: boolean }[];
  notDrawn: number;
  width: number;
  height: number;
  top: number;
};

export type Sheet = {
  width: number;
  rowHeight: number;
  /** Room for the words of the last column. */
  words: number;
  /** The widest a column gets, and what the name of a day needs. */
  column: number;
  dayName: number;
};

export const deskSheet: Sheet = { width: 760, rowHeight: 26, words: 250, column: 84, dayName: 56 };
export const phoneSheet: Sheet = { width: 360, rowHeight: 28, words: 190, column: 48, dayName: 52 };

/** More would be a thicket; the table has them all. */
export const mostDrawn = 40;

const top = 30;
const left = 10;

type Layer = { day: string; step: number };

/** How many contacts of its own day lead to a node one after another. */
function stepOf(way: readonly Contact[]): number {
  const day = way.at(-1)?.date;
  let step = 0;
  while (step < way.length && way[way.length - 1 - step]!.date === day) step += 1;
  return step;
}

const keyOf = ({ day, step }: Layer) => `${day} ${String(step).padStart(3, '0')}`;
const layerOf = (way: readonly Contact[]): Layer => ({ day: way.at(-1)!.date, step: stepOf(way) });

/** Children under their parents, each family together: no line crosses another's words. */
function inFamilies(nodes: readonly PictureNode[], start: string): PictureNode[] {
  const children = new Map<string, PictureNode[]>();
  for (const node of nodes) {
    const parent = node.way.at(-1)!.from;
    children.set(parent, [...(children.get(parent) ?? []), node]);
  }
  const all: PictureNode[] = [];
  const walk = (code: string) => {
    for (const node of children.get(code) ?? []) {
      all.push(node);
      if (!node.isOrder) walk(node.name);
    }
  };
  walk(start);
  return all;
}

/**
 * Lays the ways out of a culture out as a tree: a row for each that was reached, days from left to right, each a step
 * to the right of the culture before it. Nodes come in the order of the trace, where each way goes on from that of the
 * culture before it; of too many the first are drawn.
 */
export function planPicture(start: string, nodes: readonly PictureNode[], sheet: Sheet): PicturePlan {
  const drawn = nodes.filter(({ way }) => way.length > 0).slice(0, mostDrawn);
  const layers = new Map(drawn.map(({ way }) => [keyOf(layerOf(way)), layerOf(way)]));
  const keys = [...layers.keys()].sort();
  const column = Math.min(sheet.column, (sheet.width - sheet.words - left) / Math.max(1, keys.length));
  const xOf = (way: readonly Contact[]) => left + (keys.indexOf(keyOf(layerOf(way))) + 1) * column;
  const yOf = (row: number) => top + (row + 0.5) * sheet.rowHeight;
  const first = { x: left, y: yOf(0) };
  const places = new Map([[start, first]]);
  const planned: PlannedNode[] = [{ name: start, isOrder: false, by: null, ...first, from: null }];
  for (const [row, { name, isOrder, way }] of inFamilies(drawn, start).entries()) {
    const by = way.at(-1)!;
    const place = { x: xOf(way), y: yOf(row + 1) };
    if (!isOrder) places.set(name, place);
    planned.push({ name, isOrder, by, ...place, from: places.get(by.from)! });
  }
  return {
    nodes: planned,
    days: namedDays(keys, layers, column, sheet),
    notDrawn: nodes.length - drawn.length,
    width: sheet.width,
    height: top + (planned.length + 0.5) * sheet.rowHeight,
    top,
  };
}

/** The first column of each day; a day is named where the name of the one before leaves room. */
function namedDays(keys: readonly string[], layers: Map<string, Layer>, column: number, { dayName }: Sheet) {
  let free = 0;
  return keys.flatMap((key, i) => {
    const { day } = layers.get(key)!;
    if (i > 0 && layers.get(keys[i - 1]!)!.day === day) return [];
    const x = left + (i + 1) * column;
    const named = x >= free;
    if (named) free = x + dayName;
    return [{ day, x, named }];
  });
}
