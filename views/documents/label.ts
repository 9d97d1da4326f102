import { Warnings } from './characters.ts';
import { type Element, lineMarks, type Mark, type Placed } from './drawing.ts';
import { type Line, type Piece, type TextStyle, widthOfPieces, wrap } from './lines.ts';
import { type QrCode, QUIET_MODULES, qrCode } from './marks.ts';
import { clipped } from './page-frame.ts';
import { mm, POINTS_PER_MM } from './paper.ts';

export interface LabelData {
  code: string;
  /** What a scan opens. */
  url: string;
  scientificName: string;
  /** Line and morph in words; empty for none. */
  line: string;
  place: string;
}

/**
 * The smallest square of a code that the phones in use read without trouble at a hand's breadth: common practice, no
 * source (ISO/IEC 18004 leaves the size of a module to the application; the free margin of four modules is its own).
 */
export const LEAST_MODULE_MM = 0.4;

/** Room left free at a label's edge: printers and hands place paper to about a millimetre. */
const LABEL_PAD_MM = 1.5;
/** The code's own quiet zone is free already; this much more keeps it off a cutting line. */
export const CODE_INSET_MM = 0.5;

const CODE_MOST_MM = 36;
const GOOD_MODULE_MM = 0.5;

/** Where the parts of one label stand, in points from its upper left corner. */
export interface LaidLabel {
  moduleMm: number;
  /** What found no room. */
  leftOut: string[];
  /** The QR code with its quiet zone. */
  scan: { xPt: number; yPt: number; sidePt: number };
  draw(xPt: number, yPt: number, owners: LabelOwners): Placed[];
}

/** The parts of a document that the marks of a label belong to. */
export interface LabelOwners {
  figure: Element | null;
  text: Element | null;
}

interface Box {
  xPt: number;
  yPt: number;
  widthPt: number;
  heightPt: number;
}

const codes = new Map<string, QrCode>();

/** Made once for the same text: a preview and its print ask one after the other. */
function codeOf(url: string): QrCode {
  const known = codes.get(url);
  if (known) return known;
  if (codes.size >= 2000) codes.clear();
  const made = qrCode(url);
  codes.set(url, made);
  return made;
}

/** Sets one label: the code to scan, the culture's code as large as it can stand, then what else helps. */
export function layOutLabel(
  label: LabelData,
  widthMm: number,
  heightMm: number,
  warnings: Warnings,
): LaidLabel {
  const code = codeOf(label.url);
  const modules = code.size + 2 * QUIET_MODULES;
  const beside = widthMm >= 1.25 * heightMm;
  const sideMm = beside
    ? within(heightMm, widthMm, modules)
    : Math.min(widthMm - 2 * CODE_INSET_MM, within(widthMm, heightMm, modules));
  const modulePt = mm(sideMm) / modules;
  const xPt = beside ? mm(CODE_INSET_MM) : (mm(widthMm) - mm(sideMm)) / 2;
  const yPt = beside ? (mm(heightMm) - mm(sideMm)) / 2 : mm(CODE_INSET_MM);
  const pad = mm(LABEL_PAD_MM);
  const box: Box = beside
    ? {
        xPt: xPt + mm(sideMm),
        yPt: pad,
        widthPt: mm(widthMm) - pad - xPt - mm(sideMm),
        heightPt: mm(heightMm) - 2 * pad,
      }
    : {
        xPt: pad,
        yPt: yPt + mm(sideMm),
        widthPt: mm(widthMm) - 2 * pad,
        heightPt: mm(heightMm) - pad - yPt - mm(sideMm),
      };
  const { lines, leftOut } = setText(label, box, warnings);
  const textPt = lines.reduce((sum, line) => sum + line.heightPt, 0);
  const top = beside ? box.yPt + Math.max(0, (box.heightPt - textPt) / 2) : box.yPt;
  return {
    moduleMm: modulePt / POINTS_PER_MM,
    leftOut,
    scan: { xPt, yPt, sidePt: mm(sideMm) },
    draw: (x, y, owners) => {
      const dark: Mark = { kind: 'rects', rects: code.areas(x + xPt, y + yPt, modulePt), fill: 1 };
      if (owners.figure) owners.figure.box = [x + xPt, y + yPt, x + xPt + mm(sideMm), y + yPt + mm(sideMm)];
      let at = y + top;
      const text = lines.flatMap((line) => {
        const left = beside ? box.xPt : box.xPt + (box.widthPt - line.widthPt) / 2;
        const marks = lineMarks(line, x + left, at, owners.text);
        at += line.heightPt;
        return marks;
      });
      return [{ mark: dark, element: owners.figure }, ...text];
    },
  };
}

/** The side of a code in a label that is `acrossMm` the short way: enough to be read well, no more than helps. */
function within(acrossMm: number, alongMm: number, modules: number): number {
  const wanted = Math.max(
    Math.min(0.4 * alongMm, CODE_MOST_MM),
    Math.min(0.6 * alongMm, GOOD_MODULE_MM * modules),
  );
  return Math.max(1, Math.min(acrossMm - 2 * CODE_INSET_MM, wanted));
}

const CODE_SIZES = [40, 36, 32, 28, 25, 22, 20, 18, 16, 14, 13, 12, 11, 10, 9, 8, 7, 6];
const SMALL_SIZES = [16, 14, 13, 12, 11, 10, 9, 8, 7];
/** Below these a label is cut short rather than set smaller: they are read at arm's length. */
const GOOD_CODE_PT = 16;
const GOOD_SMALL_PT = 9;

type Part = { what: string; text: string; style: (sizePt: number) => TextStyle };

interface Text {
  code: string;
  parts: Part[];
}

/** The largest sizes at which everything fits; where nothing does, the last parts go first. The code stays. */
function setText(label: LabelData, box: Box, warnings: Warnings): { lines: Line[]; leftOut: string[] } {
  const all: Part[] = [
    {
      what: 'species',
      text: label.scientificName,
      style: (sizePt) => ({ face: 'italic', sizePt, lang: 'la' }),
    },
    { what: 'place', text: label.place, style: (sizePt) => ({ face: 'bold', sizePt }) },
    { what: 'line', text: label.line, style: (sizePt) => ({ face: 'regular', sizePt }) },
  ];
  const parts = all.filter((part) => part.text !== '');
  // A warning is about the text as a whole, whatever becomes of it in the little room.
  for (const part of parts) widthOfPieces([{ text: part.text, style: part.style(9) }], warnings);
  widthOfPieces([codePiece(label.code, 9)], warnings);
  const whole = setWhole({ code: label.code, parts }, box, {
    lines: 2,
    codePt: GOOD_CODE_PT,
    smallPt: GOOD_SMALL_PT,
  });
  if (whole) return { lines: whole, leftOut: [] };
  for (let kept = parts.length; kept > 0; kept -= 1) {
    const text = { code: label.code, parts: parts.slice(0, kept) };
    const lines = setWhole(text, box, { lines: 1, codePt: 6, smallPt: 7 });
    if (lines) return { lines, leftOut: parts.slice(kept).map((part) => part.what) };
  }
  const size =
    CODE_SIZES.find((each) => heightOf(codeLines(label.code, each, box) ?? []) <= box.heightPt) ?? 6;
  return { lines: codeLines(label.code, size, box) ?? [], leftOut: parts.map((part) => part.what) };
}

/** Everything at the largest sizes not below the least ones; null when they are too large still. */
function setWhole(
  { code, parts }: Text,
  box: Box,
  least: { lines: number; codePt: number; smallPt: number },
): Line[] | null {
  for (const codePt of CODE_SIZES.filter((size) => size >= least.codePt)) {
    const head = codeLines(code, codePt, box);
    if (!head) continue;
    const smalls = SMALL_SIZES.filter((size) => size >= least.smallPt && size <= Math.max(9, codePt / 2));
    for (const smallPt of smalls) {
      const rest = parts.map((part) => partLines(part, smallPt, box.widthPt, least.lines));
      const lines = [...head, ...rest.flatMap((each) => each ?? [])];
      if (!rest.includes(null) && heightOf(lines) <= box.heightPt) return lines;
    }
  }
  return null;
}

/** The code on one line, or a long one on two; null when it is wider still. The least size is always set. */
function codeLines(code: string, sizePt: number, { widthPt }: Box): Line[] | null {
  const quiet = new Warnings();
  const one = wrap([codePiece(code, sizePt)], Number.POSITIVE_INFINITY, quiet);
  const fits = (lines: Line[]) => lines.every((line) => line.widthPt <= widthPt);
  if (fits(one)) return one;
  const halves = code.length > 10 ? halved(code).map((half) => codePiece(half, sizePt)) : [];
  const two = halves.flatMap((half) => wrap([half], Number.POSITIVE_INFINITY, quiet));
  if (two.length > 0 && fits(two)) return two;
  return sizePt > 6 ? null : wrap([codePiece(code, sizePt)], widthPt, quiet);
}

/** A long code in two, after the mark nearest to its middle. */
function halved(code: string): [string, string] {
  const marks = [...code.matchAll(/[-._/]/g)].map(({ index }) => index + 1).filter((at) => at < code.length);
  const middle = code.length / 2;
  const at = marks.sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))[0] ?? Math.ceil(middle);
  return [code.slice(0, at), code.slice(at)];
}

const codePiece = (text: string, sizePt: number): Piece => ({
  text,
  style: { face: 'monoBold', sizePt, leading: 1.05 },
});

/** The part on so many lines; cut short on one, null when it would need more. */
function partLines(part: Part, sizePt: number, widthPt: number, most: number): Line[] | null {
  const quiet = new Warnings();
  const style: TextStyle = { ...part.style(sizePt), leading: 1.15 };
  const text = most === 1 ? clipped(part.text, widthPt, quiet, style) : part.text;
  const lines = wrap([{ text, style }], widthPt, quiet);
  return lines.length <= most ? lines : null;
}

const heightOf = (lines: readonly Line[]) => lines.reduce((sum, line) => sum + line.heightPt, 0);
