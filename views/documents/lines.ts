import { baseOf } from './bidi.ts';
import { graphemesOf, printable, stretchesOf, type Warnings } from './characters.ts';
import { FALLBACK_SCALE, type Face, isBold, isScriptFace, type PrintFace, widthOf } from './faces.ts';
import { type Dress, laidRuns, type Run } from './runs.ts';
import { IDEOGRAPH, isTall, NOT_AT_LINE_START } from './scripts.ts';

export interface TextStyle {
  face: Face;
  sizePt: number;
  /** Line height as a multiple of the size; 1.28 if left out. */
  leading?: number;
  /** Figures of one width, for columns. */
  tabular?: boolean;
  /** Language of the words when it is not the document's, such as `la` for a scientific name. */
  lang?: string;
  /** Two letters of the country whose forms of Chinese characters are wanted. */
  country?: string | undefined;
}

export interface Piece {
  text: string;
  style: TextStyle;
}

/** The piece, its Chinese characters in the forms of a country. */
export const inCountry = ({ text, style }: Piece, country: string | undefined): Piece => ({
  text,
  style: country === undefined ? style : { ...style, country },
});

export interface Line {
  /** In the order in which they are read. */
  runs: Run[];
  widthPt: number;
  heightPt: number;
  /** From the top of the line down to the baseline. */
  baselinePt: number;
}

/** A part of a stretch; what all parts of it share is made once. */
interface Chunk {
  text: string;
  dress: Dress;
  style: TextStyle;
}

/** What may not be torn apart at a line end, and the space that follows it. */
interface Unit {
  chunks: Chunk[];
  space: Chunk | null;
}

/**
 * Breaks text of any length into lines no wider than widthPt; a word that is too long is broken where it must be.
 * The space at a line's end is kept, unseen: it is not part of the line's width.
 */
export function wrap(pieces: Piece[], widthPt: number, warnings: Warnings): Line[] {
  const lines: Line[] = [];
  for (const paragraph of paragraphsOf(pieces, warnings)) {
    const filled = fill(unitsOf(paragraph.chunks), widthPt);
    const base = baseOf(paragraph.chunks.map((chunk) => chunk.text).join(''));
    for (const chunks of filled.length > 0 ? filled : [[]]) lines.push(lineOf(chunks, paragraph.style, base));
    endWithSpace(lines.at(-1));
  }
  const runs = lines.at(-1)?.runs;
  const end = runs?.at(-1);
  if (end) end.text = end.text.trimEnd();
  if (end?.text === '') runs?.pop();
  return lines;
}

/** Lines that belong to one text must not run into each other when they are read aloud. */
function endWithSpace(line: Line | undefined): void {
  const last = line?.runs.at(-1);
  if (!line || !last || last.text.endsWith(' ')) return;
  if (last.rtl)
    line.runs.push({ ...last, face: 'regular', rtl: false, text: ' ', xPt: line.widthPt, widthPt: 0 });
  else last.text += ' ';
}

/** Width of the pieces on one line, however long. */
export function widthOfPieces(pieces: Piece[], warnings: Warnings): number {
  return Math.max(...wrap(pieces, Number.POSITIVE_INFINITY, warnings).map((line) => line.widthPt), 0);
}

/** The pieces with all sizes multiplied so that they stand on one line of widthPt, but never below the least factor. */
export function shrinkToLine(
  pieces: Piece[],
  widthPt: number,
  leastFactor: number,
  warnings: Warnings,
): Piece[] {
  const width = widthOfPieces(pieces, warnings);
  const factor = Math.max(leastFactor, Math.min(1, widthPt / width));
  return pieces.map(({ text, style }) => ({ text, style: { ...style, sizePt: style.sizePt * factor } }));
}

function paragraphsOf(pieces: Piece[], warnings: Warnings) {
  const first = pieces[0]?.style ?? { face: 'regular', sizePt: 10 };
  const paragraphs: { chunks: Chunk[]; style: TextStyle }[] = [{ chunks: [], style: first }];
  for (const { text, style } of pieces) {
    for (const [index, part] of printable(text).split('\n').entries()) {
      if (index > 0) paragraphs.push({ chunks: [], style });
      const stretches = stretchesOf(part, style.face, warnings, style);
      for (const { text: said, face } of stretches)
        paragraphs.at(-1)?.chunks.push({ text: said, dress: dressOf(face, style), style });
    }
  }
  return paragraphs;
}

/** A line may end at a space, and after a hyphen, dash or slash that stands before a letter (not within a code). */
const PARTS = / +|[^ ]+?(?:[-–—/](?=\p{L})|(?= )|$)/gu;
const ENDS_LINE = /[-–—/]$/u;

/** And on both sides of an ideograph. Asked for only where there are any: it takes longer. */
const IDEOGRAPHS = new RegExp(`[${IDEOGRAPH}]`, 'u');
const PARTS_OF_IDEOGRAPHS = new RegExp(
  ` +|[${IDEOGRAPH}][${NOT_AT_LINE_START}]*|[^ ]+?(?:[-–—/](?=\\p{L})|(?= )|(?=[${IDEOGRAPH}])|$)`,
  'gu',
);
const ENDS_LINE_OF_IDEOGRAPHS = new RegExp(`([-–—/]|[${IDEOGRAPH}][${NOT_AT_LINE_START}]*)$`, 'u');

function unitsOf(chunks: Chunk[]): Unit[] {
  const units: Unit[] = [];
  let open = false;
  for (const chunk of chunks) {
    const whole = chunk.style.face === 'mono' || chunk.style.face === 'monoBold';
    const dense = !whole && isScriptFace(chunk.dress.face) && IDEOGRAPHS.test(chunk.text);
    const [parts, endsLine] = dense ? [PARTS_OF_IDEOGRAPHS, ENDS_LINE_OF_IDEOGRAPHS] : [PARTS, ENDS_LINE];
    for (const text of chunk.text.match(whole ? / +|[^ ]+/g : parts) ?? []) {
      // what holds two words together is a space like others once it is known where lines may end
      const part = { text: text.replaceAll('\u00a0', ' '), dress: chunk.dress, style: chunk.style };
      const last = units.at(-1);
      if (text.startsWith(' ')) {
        if (last && !last.space) last.space = part;
        else if (!last) units.push({ chunks: [], space: part });
        open = false;
      } else {
        if (open && last) last.chunks.push(part);
        else units.push({ chunks: [part], space: null });
        open = whole || !endsLine.test(text);
      }
    }
  }
  return units;
}

function fill(units: Unit[], widthPt: number): Chunk[][] {
  const lines: Chunk[][] = [];
  let line: Chunk[] = [];
  let used = 0;
  const close = () => {
    lines.push(line);
    line = [];
    used = 0;
  };
  for (const unit of units) {
    const width = sum(unit.chunks.map(chunkWidth));
    if (used > 0 && used + width > widthPt) close();
    const parts = width > widthPt ? torn(unit.chunks, widthPt) : [unit.chunks];
    for (const [index, part] of parts.entries()) {
      if (index > 0) close();
      line.push(...part);
      used += sum(part.map(chunkWidth));
    }
    if (unit.space) {
      line.push(unit.space);
      used += chunkWidth(unit.space);
    }
  }
  if (line.length > 0) lines.push(line);
  return lines;
}

/** Breaks what is wider than a line between graphemes; at least one grapheme stands on each line. */
function torn(chunks: Chunk[], widthPt: number): Chunk[][] {
  const parts: Chunk[][] = [[]];
  let used = 0;
  for (const chunk of chunks) {
    let text = '';
    let width = 0;
    for (const grapheme of graphemesOf(chunk.text)) {
      const wider = chunkWidth({ ...chunk, text: grapheme });
      if (used + width + wider > widthPt && used + width > 0) {
        if (text !== '') parts.at(-1)?.push({ ...chunk, text });
        parts.push([]);
        [text, width, used] = ['', 0, 0];
      }
      text += grapheme;
      width += wider;
    }
    if (text !== '') parts.at(-1)?.push({ ...chunk, text });
    used += width;
  }
  return parts;
}

function lineOf(chunks: Chunk[], style: TextStyle, base: 'ltr' | 'rtl'): Line {
  const { runs, widthPt } = laidRuns(chunks, base);
  let heightPt = 0;
  let sizePt = 0;
  for (const each of chunks.length > 0 ? chunks.map((chunk) => chunk.style) : [style]) {
    heightPt = Math.max(heightPt, each.sizePt * (each.leading ?? 1.28));
    sizePt = Math.max(sizePt, each.sizePt);
  }
  for (const run of runs) if (isTall(run.face)) heightPt = Math.max(heightPt, run.sizePt * TALL_LEADING);
  // capitals (two thirds of the size) stand in the middle of the line
  return { runs, widthPt, heightPt, baselinePt: heightPt / 2 + sizePt / 3 };
}

/** Marks above and below, stacked, must not touch the neighbouring lines. */
const TALL_LEADING = 1.55;

function dressOf(face: PrintFace, style: TextStyle): Dress {
  const isStandIn = face.startsWith('fallback') || isScriptFace(face);
  return {
    face,
    sizePt: isStandIn ? style.sizePt * FALLBACK_SCALE : style.sizePt,
    tabular: style.tabular ?? false,
    bold: isBold(style.face),
    lang: style.lang,
  };
}

const chunkWidth = ({ text, dress }: Chunk): number => widthOf(text, dress);

function sum(numbers: number[]): number {
  return numbers.reduce((total, each) => total + each, 0);
}
