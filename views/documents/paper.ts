/** Paper, margins and the type scale that all printed documents share. Lengths in points (72 to the inch). */
export type PaperSize = 'A4' | 'Letter';

export interface Paper {
  size: PaperSize;
  widthPt: number;
  heightPt: number;
  /** The same on all four sides: 14 mm, so that every common printer can reach all of it. */
  marginPt: number;
}

export const POINTS_PER_MM = 72 / 25.4;

/** Points of a length in millimetres on paper. */
export function mm(length: number): number {
  return length * POINTS_PER_MM;
}

const SIZES: Record<PaperSize, [number, number]> = { A4: [595.28, 841.89], Letter: [612, 792] };

export function paperOf(size: PaperSize): Paper {
  const [widthPt, heightPt] = SIZES[size];
  return { size, widthPt, heightPt, marginPt: mm(14) };
}

/** The part of a page that belongs to the document itself: inside the margins, between running head and foot. */
export interface Frame {
  xPt: number;
  yPt: number;
  widthPt: number;
  bottomPt: number;
}

/** Width of drawn lines. */
export const HAIRLINE = 0.4;
export const RULE = 0.8;
export const HEAVY = 1.6;
