import { csvLines } from './export.ts';
import type { ImportReading, OtherRow } from './result.ts';

/** What the list of rows not brought in adds to the columns of the file; never read as part of a note again. */
export const reportColumns: readonly string[] = ['Line in the file', 'Why it is not brought in'];

/**
 * The rows of one file that are not brought in, with their lines and every reason, as a CSV file. Its columns are
 * those of the file, so that the rows can be mended there and brought in with the same mapping.
 */
export function notBroughtInCsv(reading: ImportReading, kind: 'cultures' | 'diary'): Generator<string> {
  const labels = reading.files.find((file) => file.kind === kind)?.labels ?? [];
  const rows = [
    ...reading.faulty.map((row) => ({ ...row, why: row.reasons.map((fault) => fault.reason).join(' ') })),
    ...reading.leftOut,
    ...reading.alreadyThere,
  ]
    .filter((row) => row.file === kind)
    .sort((a, b) => a.line - b.line);
  return reportCsv(labels, rows);
}

/** Rows of a file under its own columns, with their lines and why each is not brought in. */
export function reportCsv(
  labels: readonly string[],
  rows: Iterable<Pick<OtherRow, 'cells' | 'line' | 'why' | 'raw'>>,
): Generator<string> {
  // A row of too few or too many cells is shown as far as the columns go, and whole in its last cell.
  return csvLines(
    [...labels, ...reportColumns],
    Array.from(rows, ({ cells, line, why, raw }) => [
      ...labels.map((_, at) => cells[at] ?? ''),
      line,
      cells.length === labels.length ? why : `${why} The row: ${raw}`,
    ]),
  );
}
