import { readRecords } from './csv.ts';

export const delimiters = [',', ';', '\t', '|'] as const;
export type Delimiter = (typeof delimiters)[number];

const LOOK_AT_CHARS = 64 * 1024;
const LOOK_AT_RECORDS = 60;

/**
 * Which character parts the cells: the one that parts the first rows most evenly, quotation marks respected.
 * A first line `sep=;`, as spreadsheets write it, is believed. A file of one column answers with the comma.
 *
 * @example guessDelimiter('Code;Note\nA-1;"dry, cold"\n') // ';'
 */
export function guessDelimiter(text: string): Delimiter {
  const told = /^sep=([,;\t|])(?:\r|\n)/i.exec(text)?.[1];
  if (told) return delimiters.find((delimiter) => delimiter === told) ?? ',';
  let best: Delimiter = ',';
  let bestScore = 0;
  for (const delimiter of delimiters) {
    const score = evenness(text, delimiter);
    if (score > bestScore) [best, bestScore] = [delimiter, score];
  }
  return best;
}

/** The most common number of cells in a record, blank and broken ones apart; 0 where there is none. */
export function commonWidth(widths: readonly number[]): { width: number; share: number } {
  const counts = new Map<number, number>();
  for (const width of widths) counts.set(width, (counts.get(width) ?? 0) + 1);
  let [width, most] = [0, 0];
  for (const [candidate, count] of counts) if (count > most) [width, most] = [candidate, count];
  return { width, share: widths.length ? most / widths.length : 0 };
}

function evenness(text: string, delimiter: Delimiter): number {
  const cut = text.length > LOOK_AT_CHARS;
  const { records } = readRecords(cut ? text.slice(0, LOOK_AT_CHARS) : text, delimiter, LOOK_AT_RECORDS);
  if (cut && records.length < LOOK_AT_RECORDS) records.pop();
  const { width, share } = commonWidth(records.map((record) => (record.broken ? 0 : record.cells.length)));
  return width < 2 ? 0 : share * (1 + Math.log(width));
}
