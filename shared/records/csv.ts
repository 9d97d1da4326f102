import { limits } from './limits.ts';

/** One record of a CSV file and the line it starts on (the first line of a file is 1). */
export interface CsvRecord {
  line: number;
  cells: string[];
  /** The quotation marks of this line do not pair up: `cells` holds the whole line as it stands. */
  broken: boolean;
}

/**
 * The records of a CSV text (RFC 4180, with any line end and any one delimiter), and how many blank ones lie between.
 *
 * Written here rather than taken from a library because records of breeders need two things at once: a quotation
 * mark inside plain text (`6" tub`) is text, and a quotation mark that is never closed spoils its own line only.
 * The line it stands on is known, and the rows after it are read as if nothing had happened.
 *
 * @example readRecords('a,b\n1,"x, y"\n', ',') // lines 1 and 2; the second holds '1' and 'x, y'
 */
export function readRecords(
  text: string,
  delimiter: string,
  most = Number.POSITIVE_INFINITY,
): { records: CsvRecord[]; blank: number } {
  const records: CsvRecord[] = [];
  let at = 0;
  let line = 1;
  let blank = 0;
  while (at < text.length && records.length < most) {
    const read = readRecord(text, at, delimiter);
    if (read) {
      if (read.cells.some((cell) => cell.trim() !== ''))
        records.push({ line, cells: read.cells, broken: false });
      else blank += 1;
      at = read.next;
      line += 1 + read.breaks;
    } else {
      const end = endOfLine(text, at);
      records.push({ line, cells: [text.slice(at, end)], broken: true });
      at = pastLineEnd(text, end);
      line += 1;
    }
  }
  return { records, blank };
}

/** One record as a line of CSV without its line end; cells are quoted only where they must be. */
export function writeRecord(cells: readonly string[], delimiter = ','): string {
  return cells
    .map((cell) => (mustBeQuoted(cell, delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell))
    .join(delimiter);
}

function mustBeQuoted(cell: string, delimiter: string): boolean {
  return cell.includes(delimiter) || /["\r\n]|^\s|\s$/.test(cell);
}

function readRecord(
  text: string,
  from: number,
  delimiter: string,
): { cells: string[]; next: number; breaks: number } | null {
  const cells: string[] = [];
  let at = from;
  let breaks = 0;
  for (;;) {
    const start = pastSpaces(text, at);
    if (text[start] === '"') {
      const quoted = readQuoted(text, start + 1);
      if (!quoted) return null;
      cells.push(quoted.value);
      breaks += quoted.breaks;
      at = pastSpaces(text, quoted.next);
      if (at < text.length && text[at] !== delimiter && !isLineEnd(text[at])) return null;
    } else {
      const end = endOfCell(text, at, delimiter);
      cells.push(text.slice(at, end));
      at = end;
    }
    if (text[at] !== delimiter || at >= text.length) return { cells, next: pastLineEnd(text, at), breaks };
    at += 1;
  }
}

function readQuoted(text: string, from: number): { value: string; next: number; breaks: number } | null {
  let value = '';
  let breaks = 0;
  let at = from;
  for (;;) {
    const quote = text.indexOf('"', at);
    if (quote < 0) return null;
    const piece = text.slice(at, quote);
    value += piece;
    breaks += piece.match(/\r\n|\n|\r/g)?.length ?? 0;
    if (breaks > limits.cellLines) return null;
    if (text[quote + 1] !== '"') return { value, next: quote + 1, breaks };
    value += '"';
    at = quote + 2;
  }
}

function endOfCell(text: string, from: number, delimiter: string): number {
  let at = from;
  while (at < text.length && text[at] !== delimiter && !isLineEnd(text[at])) at += 1;
  return at;
}

function endOfLine(text: string, from: number): number {
  let at = from;
  while (at < text.length && !isLineEnd(text[at])) at += 1;
  return at;
}

function pastLineEnd(text: string, at: number): number {
  if (text[at] === '\r' && text[at + 1] === '\n') return at + 2;
  return Math.min(at + 1, text.length);
}

function pastSpaces(text: string, from: number): number {
  let at = from;
  while (text[at] === ' ') at += 1;
  return at;
}

function isLineEnd(character: string | undefined): boolean {
  return character === '\n' || character === '\r';
}
