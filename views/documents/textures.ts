import type { Mark } from './drawing.ts';
import { HAIRLINE } from './paper.ts';
import { scatter } from './scatter.ts';

/** A layer as it stands in the drawing: two level edges, walls that may lean. */
export interface LayerArea {
  topPt: number;
  bottomPt: number;
  leftAt(yPt: number): number;
  rightAt(yPt: number): number;
}

/** Which pattern stands for a layer, from the words of its name; earth if none is known. */
const PATTERNS: [RegExp, Pattern][] = [
  [/leaf|leaves|litter/i, { spacingPt: 5.6, reachPt: 3.6, inkPt: HAIRLINE, mark: leaf }],
  [/moss|sphagnum/i, { spacingPt: 4.4, reachPt: 2, inkPt: HAIRLINE, mark: tuft }],
  [
    /clay|gravel|drain|stone|pebble|charcoal|leca/i,
    { spacingPt: 4.8, reachPt: 2.2, inkPt: HAIRLINE, mark: pebble },
  ],
  [/wood|bark/i, { spacingPt: 5, reachPt: 3, inkPt: 0.9, mark: chip }],
  [/sand/i, { spacingPt: 2.6, reachPt: 0.6, inkPt: 0.7, mark: grain }],
];
const EARTH: Pattern = { spacingPt: 3.2, reachPt: 1.2, inkPt: 0.6, mark: crumb };

interface Pattern {
  /** Average distance between two marks. */
  spacingPt: number;
  /** How far a mark of full size reaches from its middle. */
  reachPt: number;
  inkPt: number;
  /** Outline around (x, y) at a size of 0 to 1 and a turn of 0 to 1. */
  mark(x: number, y: number, size: number, turn: number): string;
}

/** Ink for a layer: many small marks, none of which crosses the layer's edges. */
export function textureMark(name: string, area: LayerArea, seed: number): Mark {
  const pattern = PATTERNS.find(([pattern]) => pattern.test(name))?.[1] ?? EARTH;
  const random = scatter(seed + 1);
  const depthPt = area.bottomPt - area.topPt;
  const size = Math.min(1, depthPt / 2 / (pattern.reachPt + 0.4));
  const reachPt = pattern.reachPt * size;
  const outlines: string[] = [];
  const rows = Math.max(1, Math.round((depthPt - 2 * reachPt) / pattern.spacingPt) + 1);
  for (let row = 0; row < rows; row += 1) {
    const y =
      rows === 1
        ? area.topPt + depthPt / 2
        : area.topPt + reachPt + ((depthPt - 2 * reachPt) * row) / (rows - 1);
    const from = area.leftAt(y) + reachPt + 1;
    const to = area.rightAt(y) - reachPt - 1;
    const columns = Math.max(1, Math.floor((to - from) / pattern.spacingPt));
    for (let column = 0; column < columns; column += 1) {
      const x = from + ((column + 0.15 + 0.7 * random()) * (to - from)) / columns;
      const wobble = rows === 1 ? 0 : (random() - 0.5) * pattern.spacingPt * 0.6;
      const inside = Math.min(
        Math.max(y + wobble, area.topPt + reachPt + 0.3),
        area.bottomPt - reachPt - 0.3,
      );
      outlines.push(pattern.mark(x, inside, size, random()));
    }
  }
  return { kind: 'curve', d: outlines.join(''), stroke: { widthPt: pattern.inkPt } };
}

/** Drops that mark the moist part of a layer. */
export function dropMarks(area: LayerArea, fromShare: number, toShare: number): Mark[] {
  const depthPt = area.bottomPt - area.topPt;
  if (depthPt < 6) return [];
  const rows = Math.max(1, Math.floor(depthPt / 13));
  const outlines: string[] = [];
  for (let row = 0; row < rows; row += 1) {
    const y = area.topPt + (depthPt * (row + 0.5)) / rows;
    const left = area.leftAt(y);
    const span = area.rightAt(y) - left;
    const columns = Math.max(1, Math.floor((span * (toShare - fromShare)) / 14));
    for (let column = 0; column < columns; column += 1) {
      const share = fromShare + ((toShare - fromShare) * (column + (row % 2 ? 0.35 : 0.65))) / columns;
      outlines.push(drop(left + span * share, y));
    }
  }
  const d = outlines.join('');
  // white around each drop keeps it clear of the layer's own marks
  return [
    { kind: 'curve', d, stroke: { widthPt: 2.6, ink: 0 } },
    { kind: 'curve', d, fill: 1 },
  ];
}

function drop(x: number, y: number): string {
  return `M${f(x)} ${f(y - 3.4)}C${f(x + 1)} ${f(y - 1.2)} ${f(x + 2.2)} ${f(y - 0.2)} ${f(x + 2.2)} ${f(y + 0.9)}C${f(x + 2.2)} ${f(y + 3.2)} ${f(x - 2.2)} ${f(y + 3.2)} ${f(x - 2.2)} ${f(y + 0.9)}C${f(x - 2.2)} ${f(y - 0.2)} ${f(x - 1)} ${f(y - 1.2)} ${f(x)} ${f(y - 3.4)}Z`;
}

function leaf(x: number, y: number, size: number, turn: number): string {
  const angle = (turn - 0.5) * 1.3;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const at = (u: number, v: number) => `${f(x + size * (u * c - v * s))} ${f(y + size * (u * s + v * c))}`;
  return `M${at(-3.4, 0)}Q${at(-0.6, -3)} ${at(3.2, 0)}Q${at(-0.6, 3)} ${at(-3.4, 0)}M${at(-3.4, 0)}L${at(2.2, 0)}`;
}

function tuft(x: number, y: number, size: number, turn: number): string {
  const lean = (turn - 0.5) * 1.2;
  const foot = `M${f(x)} ${f(y + 1.8 * size)}L`;
  return [-1.3, 0, 1.3].map((u) => `${foot}${f(x + (u + lean * 0.5) * size)} ${f(y - 1.8 * size)}`).join('');
}

function pebble(x: number, y: number, size: number, turn: number): string {
  const r = size * (1.5 + 0.6 * turn);
  return `M${f(x - r)} ${f(y)}a${f(r)} ${f(r)} 0 1 0 ${f(2 * r)} 0a${f(r)} ${f(r)} 0 1 0 ${f(-2 * r)} 0z`;
}

function chip(x: number, y: number, size: number, turn: number): string {
  const half = size * (1.4 + 1.4 * turn);
  const rise = (turn - 0.5) * size;
  return `M${f(x - half)} ${f(y + rise)}L${f(x + half)} ${f(y - rise)}`;
}

function grain(x: number, y: number): string {
  return `M${f(x)} ${f(y)}l0.01 0`;
}

function crumb(x: number, y: number, size: number, turn: number): string {
  if (turn < 0.55) return `M${f(x)} ${f(y)}l0.01 0`;
  const angle = turn * 9;
  const [u, v] = [Math.cos(angle) * 1.1 * size, Math.sin(angle) * 1.1 * size];
  return `M${f(x - u)} ${f(y - v)}L${f(x + u)} ${f(y + v)}`;
}

function f(number: number): string {
  return String(Math.round(number * 100) / 100);
}
