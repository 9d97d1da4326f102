import type { PrintFace } from './faces.ts';
import type { Line } from './lines.ts';

/** A shade of ink from 0 (white paper) to 1 (black). */
export type Ink = number;

/** One thing drawn on a page; x to the right, y down, in points from the page's upper left corner. */
export type Mark =
  | {
      kind: 'text';
      xPt: number;
      /** of the baseline */
      yPt: number;
      text: string;
      face: PrintFace;
      sizePt: number;
      tabular: boolean;
      rtl?: boolean;
      /** Meant to be bold, whether its face is or not. */
      bold?: boolean;
      lang?: string | undefined;
    }
  | { kind: 'path'; points: [number, number][]; closed: boolean; stroke?: Stroke; fill?: Ink }
  | { kind: 'curve'; d: string; stroke?: Stroke; fill?: Ink }
  | { kind: 'rects'; rects: [x: number, y: number, w: number, h: number][]; stroke?: Stroke; fill?: Ink };

export interface Stroke {
  widthPt: number;
  ink?: Ink;
  dash?: [number, number];
}

/** The tags of a page's meaning (ISO 32000-1, 14.8.4) that the documents use. */
export type Tag =
  | 'Document'
  | 'Sect'
  | 'H1'
  | 'H2'
  | 'H3'
  | 'P'
  | 'L'
  | 'LI'
  | 'Lbl'
  | 'LBody'
  | 'Table'
  | 'TR'
  | 'TH'
  | 'TD'
  | 'Figure';

/** One element of the document's logical tree. Either a container of others or a leaf that marks belong to. */
export interface Element {
  tag: Tag;
  children: Element[];
  alt?: string;
  scope?: 'Row' | 'Column';
  /** Of a figure: left, top, right, bottom on its page; known once it is drawn. */
  box?: [number, number, number, number];
}

/** A mark and the element it belongs to; null for furniture that a screen reader passes over. */
export interface Placed {
  mark: Mark;
  element: Element | null;
}

export function element(
  tag: Tag,
  parent: Element | null,
  extra: { alt?: string; scope?: 'Row' | 'Column' } = {},
): Element {
  const made: Element = { tag, children: [], ...extra };
  parent?.children.push(made);
  return made;
}

/** The marks of a line of text whose upper left corner is at (xPt, yPt). */
export function lineMarks(line: Line, xPt: number, yPt: number, owner: Element | null): Placed[] {
  return line.runs.map((run) => ({
    element: owner,
    mark: {
      kind: 'text',
      xPt: xPt + run.xPt,
      yPt: yPt + line.baselinePt,
      text: run.text,
      face: run.face,
      sizePt: run.sizePt,
      tabular: run.tabular,
      rtl: run.rtl,
      bold: run.bold,
      lang: run.lang,
    },
  }));
}

export function ruleMark(x1: number, y1: number, x2: number, y2: number, stroke: Stroke): Mark {
  return {
    kind: 'path',
    points: [
      [x1, y1],
      [x2, y2],
    ],
    closed: false,
    stroke,
  };
}

export function boxMark(xPt: number, yPt: number, widthPt: number, heightPt: number, stroke: Stroke): Mark {
  return { kind: 'rects', rects: [[xPt, yPt, widthPt, heightPt]], stroke };
}

export function fillMark(xPt: number, yPt: number, widthPt: number, heightPt: number, fill: Ink): Mark {
  return { kind: 'rects', rects: [[xPt, yPt, widthPt, heightPt]], fill };
}

export function dotMark(
  xPt: number,
  yPt: number,
  radiusPt: number,
  paint: { stroke?: Stroke; fill?: Ink },
): Mark {
  const r = radiusPt;
  const d = `M${xPt - r} ${yPt}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`;
  return { kind: 'curve', d, ...paint };
}

export function asPlaced(marks: Mark[], owner: Element | null): Placed[] {
  return marks.map((mark) => ({ mark, element: owner }));
}
