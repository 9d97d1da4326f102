import { encodeQR } from 'qr';
import { asPlaced, boxMark, type Element, type Mark, ruleMark } from './drawing.ts';
import type { Slab } from './flow.ts';
import { HAIRLINE, HEAVY, mm } from './paper.ts';

/** An empty box to be ticked by hand. */
export function checkBox(sidePt: number, xPt: number, yPt: number): Mark {
  return boxMark(xPt, yPt, sidePt, sidePt, { widthPt: sidePt > 14 ? HEAVY : 1 });
}

/** A line to write on. */
export function writeLine(x1: number, x2: number, yPt: number): Mark {
  return ruleMark(x1, yPt, x2, yPt, { widthPt: HAIRLINE });
}

/** Modules of white that a reader needs on every side of the code (ISO/IEC 18004). */
export const QUIET_MODULES = 4;
const LEAST_SIDE_PT = mm(25);

export interface QrCode {
  /** Modules of the dark part along one side. */
  size: number;
  /** The dark areas of the code whose quiet zone has its upper left corner at (xPt, yPt). */
  areas(xPt: number, yPt: number, modulePt: number): [number, number, number, number][];
}

/** A QR code (ISO/IEC 18004). Error correction M bears 15 % of damage, enough for a damp finger. */
export function qrCode(text: string): QrCode {
  const modules = encodeQR(text, 'raw', { ecc: 'medium', border: QUIET_MODULES });
  const runs = darkRuns(modules);
  return {
    size: modules.length - 2 * QUIET_MODULES,
    areas: (xPt, yPt, modulePt) => {
      const at = (index: number) => index * modulePt;
      return runs.map(({ row, from, to }) => [
        xPt + at(from),
        yPt + at(row),
        (to - from) * modulePt,
        modulePt,
      ]);
    },
  };
}

/** A QR code with its quiet zone, drawn as black areas; its dark part is at least 25 mm wide. */
export function qrSlab(text: string, owner: Element | null): Slab & { widthPt: number } {
  const code = qrCode(text);
  const modulePt = LEAST_SIDE_PT / code.size;
  const sidePt = modulePt * (code.size + 2 * QUIET_MODULES);
  return {
    widthPt: sidePt,
    heightPt: sidePt,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => {
      if (owner) owner.box = [xPt, yPt, xPt + sidePt, yPt + sidePt];
      return asPlaced([{ kind: 'rects', rects: code.areas(xPt, yPt, modulePt), fill: 1 }], owner);
    },
  };
}

/** Neighbouring dark modules of a row as one area, so that no white seams show between them. */
function darkRuns(modules: readonly (readonly boolean[])[]): { row: number; from: number; to: number }[] {
  const runs: { row: number; from: number; to: number }[] = [];
  for (const [row, cells] of modules.entries())
    for (const [column, isDark] of cells.entries()) {
      if (!isDark) continue;
      const last = runs.at(-1);
      if (last?.row === row && last.to === column) last.to += 1;
      else runs.push({ row, from: column, to: column + 1 });
    }
  return runs;
}
