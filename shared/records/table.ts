import { type CsvRecord, readRecords, writeRecord } from './csv.ts';
import { looksLikeDate } from './dates.ts';
import { commonWidth } from './delimiter.ts';
import { type RowFault, rowFault } from './faults.ts';
import { culturesHeaders, diaryHeaders, headerScore } from './header-words.ts';
import { limits, RecordsError } from './limits.ts';
import { restore } from './neutralise.ts';
import { looksLikeNumber } from './rough-numbers.ts';

/** One row below the header. `cells` has as many cells as the header, unless a fault says otherwise. */
export interface TableRow {
  line: number;
  cells: string[];
  faults: RowFault[];
}

export interface Table {
  delimiter: string;
  /** null: the file has no header; its columns are called Column 1, Column 2 ... */
  headerLine: number | null;
  /** The name of each column, made unique: a second Notes is Notes (2). */
  labels: string[];
  rows: TableRow[];
  /** What stands above the header: a title, an export date. */
  above: TableRow[];
  blankRows: number;
  /** Lines whose mend did not fit, because the file is not the one it was written for. */
  mendsNotUsed: number[];
}

/** A row that a person mended: `was` is the row as `rawRow` gave it, so that a mend never lands on another row. */
export interface RowMend {
  line: number;
  was: string;
  cells: string[];
}

const LOOK_AT = 100;
// Everything a keyboard does not write: control characters apart from tab and line ends.
// biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the purpose
const CONTROL = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F]/;

/**
 * The rows of a CSV text below its header, each with its line and what is wrong with it as a row. No row is
 * dropped: one with too few or too many cells is there with its fault; only blank ones are counted instead.
 * Throws a RecordsError for more than 200,000 rows or 200 columns.
 */
export function readTable(
  text: string,
  delimiter: string,
  options: { headerLine?: number | null; mends?: readonly RowMend[]; unreadable?: boolean } = {},
): Table {
  // Some lines may stand above the header; beyond that a file is too long whatever its header is.
  const most = limits.rows + LOOK_AT;
  const { records, blank } = readRecords(text, delimiter, most);
  const headerLine = options.headerLine === undefined ? findHeader(records) : options.headerLine;
  const header = records.find((record) => record.line === headerLine);
  const from = header ? header.line + 1 : (records.find((record) => !isSeparatorLine(record))?.line ?? 1);
  const below = records.filter((record) => record.line >= from);
  if (below.length > limits.rows || records.length === most) {
    throw new RecordsError(
      'too-many-rows',
      'This file has more than 200,000 rows. Split it, by year for example.',
    );
  }
  const usual = commonWidth(below.slice(0, LOOK_AT).map((record) => record.cells.length)).width;
  const names = header ? header.cells : Array.from({ length: usual }, () => '');
  if (Math.max(names.length, header ? 0 : (records[0]?.cells.length ?? 0)) > limits.columns) {
    throw new RecordsError('too-many-columns', 'This file has more than 200 columns.', headerLine);
  }
  const labels = uniqueLabels(names);
  const mends = new Map((options.mends ?? []).map((mend) => [mend.line, mend]));
  const rows = below.map((record) =>
    asRow(record, labels.length, delimiter, mends, options.unreadable === true),
  );
  return {
    delimiter,
    headerLine: header ? header.line : null,
    labels,
    rows,
    above: records
      .filter((record) => record.line < from && record !== header && !isSeparatorLine(record))
      .map(({ line, cells }) => ({ line, cells, faults: [] })),
    blankRows: blank,
    mendsNotUsed: [...mends.keys()],
  };
}

/** The row as a line of CSV, for showing it and for knowing it again. */
export function rawRow(cells: readonly string[], delimiter: string): string {
  return writeRecord(cells, delimiter);
}

/** The cells of one column, from the rows that have it. */
export function* columnCells(table: Table, column: number): Generator<string> {
  for (const row of table.rows) {
    const cell = row.faults.length === 0 ? row.cells[column] : undefined;
    if (cell !== undefined) yield cell;
  }
}

function asRow(
  record: CsvRecord,
  width: number,
  delimiter: string,
  mends: Map<number, RowMend>,
  unreadable: boolean,
): TableRow {
  let cells = record.cells.map((cell) => restore(cell.trim()));
  let broken = record.broken;
  const mend = mends.get(record.line);
  if (mend && mend.was === rawRow(cells, delimiter)) {
    mends.delete(record.line);
    cells = mend.cells.map((cell) => cell.trim());
    broken = false;
  }
  while (cells.length > width && cells.at(-1) === '') cells.pop();
  return { line: record.line, cells, faults: faultsOfRow(cells, width, broken, unreadable, record.line) };
}

function faultsOfRow(
  cells: string[],
  width: number,
  broken: boolean,
  unreadable: boolean,
  line: number,
): RowFault[] {
  const faults: RowFault[] = [];
  if (broken) {
    faults.push(
      rowFault('quotes-broken', `A quotation mark on line ${line} is not closed, or text follows it.`),
    );
  } else if (cells.length !== width) {
    faults.push(rowFault('ragged', `The row has ${cells.length} cells, the header ${width}.`));
  }
  if (cells.some((cell) => cell.length > limits.cellChars)) {
    faults.push(rowFault('cell-too-long', 'A cell has more than 10,000 characters.'));
  }
  if (unreadable && cells.some((cell) => cell.includes('\uFFFD'))) {
    faults.push(
      rowFault('broken-text', 'Some bytes of this row are no letters in the encoding of the file.'),
    );
  }
  if (cells.some((cell) => CONTROL.test(cell))) {
    faults.push(rowFault('control-character', 'A cell holds a control character, which no keyboard writes.'));
  }
  return faults;
}

/** The line of the header: the first line whose cells are words for columns, or at least no dates and numbers. */
function findHeader(records: CsvRecord[]): number | null {
  const first = records
    .slice(0, LOOK_AT)
    .filter((record) => !isSeparatorLine(record) && record.cells.length <= limits.columns + 1);
  const known = first.slice(0, 20).find((record) => {
    const scores = record.cells.filter(
      (cell) => Math.max(bestScore(cell, culturesHeaders), bestScore(cell, diaryHeaders)) > 0.8,
    );
    return scores.length >= 2 && !record.cells.some(isValue);
  });
  if (known) return known.line;
  const { width } = commonWidth(first.map((record) => record.cells.length));
  const candidate = first.find((record) => record.cells.length === width);
  return candidate && !candidate.broken && !candidate.cells.some(isValue) ? candidate.line : null;
}

function bestScore(cell: string, headers: Record<string, readonly string[]>): number {
  return Math.max(...Object.values(headers).map((words) => headerScore(cell, words)));
}

function isValue(cell: string): boolean {
  return cell.trim() !== '' && cell.length < 60 && (looksLikeDate(cell) || looksLikeNumber(cell));
}

function isSeparatorLine(record: CsvRecord): boolean {
  return record.line === 1 && /^sep=/i.test(record.cells[0] ?? '');
}

function uniqueLabels(cells: readonly string[]): string[] {
  const used = new Set<string>();
  return cells.map((cell, at) => {
    const name = restore(cell.trim()).replace(/\s+/g, ' ').slice(0, 100) || `Column ${at + 1}`;
    let label = name;
    for (let n = 2; used.has(label); n += 1) label = `${name} (${n})`;
    used.add(label);
    return label;
  });
}
