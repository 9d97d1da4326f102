import type { Warnings } from './characters.ts';
import { asPlaced, boxMark, type Element, lineMarks, ruleMark, type Stroke } from './drawing.ts';
import { drawStack, heightOf, type Slab } from './flow.ts';
import { type Line, type Piece, wrap } from './lines.ts';
import { RULE } from './paper.ts';

export interface Setting {
  gapPt?: number;
  keepWithNext?: boolean;
  align?: 'left' | 'right' | 'centre';
}

/** Text as slabs of one line each; neither its first nor its last line stands alone on a page. */
export function paragraph(
  pieces: Piece[],
  widthPt: number,
  owner: Element | null,
  warnings: Warnings,
  setting: Setting = {},
): Slab[] {
  const lines = wrap(pieces, widthPt, warnings);
  return lines.map((line, index) => ({
    heightPt: line.heightPt,
    gapPt: index === 0 ? (setting.gapPt ?? 0) : 0,
    keepWithNext:
      index === lines.length - 1
        ? (setting.keepWithNext ?? false)
        : index === 0 || index === lines.length - 2,
    draw: (xPt, yPt) => lineMarks(line, xPt + shift(line, widthPt, setting.align), yPt, owner),
  }));
}

function shift(line: Line, widthPt: number, align: Setting['align']): number {
  if (align === 'right') return widthPt - line.widthPt;
  return align === 'centre' ? (widthPt - line.widthPt) / 2 : 0;
}

/** Slabs that move as one, and are divided between two of them only when they are higher than a page. */
export function stack(slabs: Slab[], setting: Setting = {}): Slab {
  return {
    heightPt: heightOf(slabs),
    gapPt: setting.gapPt ?? 0,
    keepWithNext: setting.keepWithNext ?? false,
    draw: (xPt, yPt) => drawStack(slabs, xPt, yPt),
    split: (roomPt) => {
      const [here, there] = parted(slabs, roomPt);
      if (here.length === 0) return null;
      return [stack(here, { gapPt: setting.gapPt }), stack(there, setting)];
    },
  };
}

/** What fits into the room, less slabs that must not be last; a slab higher than the room is divided itself. */
function parted(slabs: Slab[], roomPt: number): [Slab[], Slab[]] {
  let count = 0;
  while (count < slabs.length && heightOf(slabs.slice(0, count + 1)) <= roomPt) count += 1;
  const next = slabs[count];
  if (next && next.heightPt > roomPt) {
    const used = heightOf(slabs.slice(0, count)) + (count > 0 ? next.gapPt : 0);
    const parts = next.split?.(roomPt - used);
    if (parts)
      return [
        [...slabs.slice(0, count), parts[0]],
        [parts[1], ...slabs.slice(count + 1)],
      ];
  }
  let kept = count;
  while (kept > 0 && slabs[kept - 1]?.keepWithNext) kept -= 1;
  const cut = kept > 0 ? kept : count;
  return [slabs.slice(0, cut), slabs.slice(cut)];
}

export interface Column {
  /** From the left edge of the row. */
  xPt: number;
  content: Slab;
}

/** Columns side by side, divided together when the row is higher than a page. */
export function row(columns: Column[], setting: Setting = {}): Slab {
  return {
    heightPt: Math.max(...columns.map((column) => column.content.heightPt)),
    gapPt: setting.gapPt ?? 0,
    keepWithNext: setting.keepWithNext ?? false,
    draw: (xPt, yPt) => columns.flatMap((column) => column.content.draw(xPt + column.xPt, yPt)),
    split: (roomPt) => {
      const parts = columns.map((column) => ({ xPt: column.xPt, parts: divide(column.content, roomPt) }));
      if (parts.some((part) => part.parts === null)) return null;
      const side = (which: 0 | 1) =>
        parts.map((part) => ({ xPt: part.xPt, content: part.parts?.[which] ?? nothing }));
      return [row(side(0), { gapPt: setting.gapPt }), row(side(1), setting)];
    },
  };
}

const nothing: Slab = { heightPt: 0, gapPt: 0, keepWithNext: false, draw: () => [] };

function divide(slab: Slab, roomPt: number): [Slab, Slab] | null {
  return slab.heightPt <= roomPt ? [slab, nothing] : (slab.split?.(roomPt) ?? null);
}

export type Frame = {
  padPt: number;
  padXPt?: number;
  stroke?: Stroke;
  sides: 'all' | 'top';
  /** A fine line inside the one around, this far from it, as on a specimen's card. */
  innerPt?: number;
};

function frameMarks(
  { stroke, sides, innerPt }: Frame,
  at: [xPt: number, yPt: number],
  size: [number, number],
) {
  const [[xPt, yPt], [widthPt, heightPt]] = [at, size];
  if (!stroke) return [];
  if (sides === 'top') return [ruleMark(xPt, yPt, xPt + widthPt, yPt, stroke)];
  const outer = boxMark(xPt, yPt, widthPt, heightPt, stroke);
  if (innerPt === undefined) return [outer];
  const [insideWidthPt, insideHeightPt] = [widthPt - 2 * innerPt, heightPt - 2 * innerPt];
  return [outer, boxMark(xPt + innerPt, yPt + innerPt, insideWidthPt, insideHeightPt, { widthPt: RULE / 2 })];
}

/** A slab with white around it and, if asked for, a line around that or above it. */
export function framed(content: Slab, widthPt: number, frame: Frame, setting: Setting = {}): Slab {
  const { padPt } = frame;
  const padXPt = frame.padXPt ?? padPt;
  const heightPt = content.heightPt + 2 * padPt;
  return {
    heightPt,
    gapPt: setting.gapPt ?? 0,
    keepWithNext: setting.keepWithNext ?? false,
    draw: (xPt, yPt) => [
      ...asPlaced(frameMarks(frame, [xPt, yPt], [widthPt, heightPt]), null),
      ...content.draw(xPt + padXPt, yPt + padPt),
    ],
    split: (roomPt) => {
      const parts = content.split?.(roomPt - 2 * padPt);
      if (!parts) return null;
      return [
        framed(parts[0], widthPt, frame, { gapPt: setting.gapPt }),
        framed(parts[1], widthPt, frame, setting),
      ];
    },
  };
}
