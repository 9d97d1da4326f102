import type { Said } from './care-sheet-data.ts';
import type { Piece, TextStyle } from './lines.ts';

/** The type of a care sheet: everything follows from the size of its running text. */
export interface CareStyles {
  body: TextStyle;
  strong: TextStyle;
  heading: TextStyle;
  small: TextStyle;
  figure: TextStyle;
}

export const LEAST_BODY_PT = 8.5;

export function careStyles(bodyPt: number): CareStyles {
  const leading = 1.3;
  return {
    body: { face: 'regular', sizePt: bodyPt, leading },
    strong: { face: 'bold', sizePt: bodyPt, leading },
    heading: { face: 'bold', sizePt: bodyPt * 1.18, leading: 1.25 },
    small: { face: 'regular', sizePt: Math.max(LEAST_BODY_PT, bodyPt * 0.88), leading: 1.2 },
    figure: { face: 'regular', sizePt: bodyPt, leading, tabular: true },
  };
}

/** Words of the owner's; they say their language where it is not the document's. */
export const sayPiece = ({ text, lang }: Said, style: TextStyle): Piece => ({
  text,
  style: lang === undefined ? style : { ...style, lang },
});

export function piece(text: string, style: TextStyle): Piece {
  return { text, style };
}
