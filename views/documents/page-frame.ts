import type { Speaker } from '../words/speaker.ts';
import { printable, UNPRINTABLE, Warnings } from './characters.ts';
import { asPlaced, lineMarks, type Placed, ruleMark } from './drawing.ts';
import { inCountry, type Piece, type TextStyle, widthOfPieces, wrap } from './lines.ts';
import { type Frame, HAIRLINE, mm, type Paper } from './paper.ts';

/** What stands on every page of a document: what it is, for whom, when, and which page of how many. */
export interface PageNote {
  /** Such as `Packing sheet, order 2026-0147`. */
  what: string;
  whom: string;
  /** Two letters of where they live; decides the forms of Chinese characters. */
  country?: string | undefined;
  when: string;
  /** Such as `page 2 of 3`. */
  page: string;
  /** Such as `sheet 5 of 9 in this print`; empty when the print holds one document only. */
  overall: string;
  /** Who made it and on what day. */
  source: string;
  /** True when some characters on this document could not be printed. */
  hasGaps: boolean;
  speaker: Speaker;
}

const FOOT_PT = mm(13);
const SIZE_PT = 9;

/** The part of the page above the foot. */
export function frameOf(paper: Paper, headPt = 0): Frame {
  return {
    xPt: paper.marginPt,
    yPt: paper.marginPt + headPt,
    widthPt: paper.widthPt - 2 * paper.marginPt,
    bottomPt: paper.heightPt - paper.marginPt - FOOT_PT,
  };
}

/** The foot of a page: two quiet lines under a hairline. It is furniture: screen readers pass over it. */
export function footMarks(paper: Paper, note: PageNote, warnings: Warnings): Placed[] {
  // what stands in the document too has been warned of there; only the source stands here alone
  widthOfPieces([text(note.source)], warnings);
  const quiet = new Warnings();
  const frame = frameOf(paper);
  const right = frame.xPt + frame.widthPt;
  const top = frame.bottomPt + mm(3.5);
  const pageLine = text(note.page, 'bold');
  const pageWidth = Math.max(widthOfPieces([pageLine], quiet), widthOfPieces([text(note.overall)], quiet));
  const room = frame.widthPt - pageWidth - 12;
  const gaps = note.hasGaps ? note.speaker.say('paper.gaps', { marker: UNPRINTABLE }) : '';
  const style = text('', 'regular', note.country).style;
  const first = firstLine(note, room, quiet, style);
  const second = joined([gaps, note.source]);
  const rows: [string, Piece][] = [
    [first, pageLine],
    [second, text(note.overall)],
  ];
  const lines = rows.flatMap(([left, rightPiece], index) => {
    const y = top + mm(1.2) + index * SIZE_PT * 1.35;
    const leftLine = wrap([{ text: clipped(left, room, quiet), style }], Number.POSITIVE_INFINITY, quiet)[0];
    const rightLine = wrap([rightPiece], Number.POSITIVE_INFINITY, quiet)[0];
    return [
      ...(leftLine ? lineMarks(leftLine, frame.xPt, y, null) : []),
      ...(rightLine ? lineMarks(rightLine, right - rightLine.widthPt, y, null) : []),
    ];
  });
  return [...asPlaced([ruleMark(frame.xPt, top, right, top, { widthPt: HAIRLINE })], null), ...lines];
}

/** What, for whom and when; the day is never cut, the longest of the others first. */
function firstLine(
  { what, whom, when }: PageNote,
  roomPt: number,
  quiet: Warnings,
  style: TextStyle,
): string {
  const widthOf = (words: string) => widthOfPieces([{ text: words, style }], quiet);
  const names = roomPt - widthOf(joined(['', when])) - 2 * (widthOf('x · x') - widthOf('xx')) - 1;
  const [whatPt, whomPt] = [widthOf(joined([what])), widthOf(joined([whom]))];
  const whatMost = Math.max(names - whomPt, names * 0.55);
  return joined([
    clipped(what, whatMost, quiet, style),
    clipped(whom, names - Math.min(whatPt, whatMost), quiet, style),
    when,
  ]);
}

function joined(parts: string[]): string {
  return parts
    .map(oneLine)
    .filter((part) => part !== '')
    .join(' · ');
}

function oneLine(words: string): string {
  return printable(words).replace(/\s+/g, ' ').trim();
}

function text(words: string, face: 'regular' | 'bold' = 'regular', country?: string): Piece {
  return inCountry({ text: words, style: { face, sizePt: SIZE_PT } }, country);
}

/** The words cut to the width, with a mark of the cut; what is cut here stands in full in the document. */
export function clipped(words: string, widthPt: number, warnings: Warnings, style = text('').style): string {
  const fits = (part: string) => widthOfPieces([{ text: part, style }], warnings) <= widthPt;
  const whole = oneLine(words).slice(0, 400);
  if (fits(whole)) return whole;
  let [least, most] = [0, whole.length];
  while (most - least > 1) {
    const middle = (least + most) >> 1;
    if (fits(`${whole.slice(0, middle)}…`)) least = middle;
    else most = middle;
  }
  return `${whole.slice(0, least).trimEnd()}…`;
}
