import type { Findings } from './findings.ts';
import { isFormula } from './neutralise.ts';
import type { Table, TableRow } from './table.ts';

const MARKUP = /<\s*[a-z!/?]/i;

/** Reads the cells of a table by the names of their columns. */
export interface CellReader {
  /** The cell of a column; '' where the column is not mapped or the row does not reach it. */
  cell: (row: TableRow, label: string | null | undefined) => string;
  /** The columns kept in the note, as `Label: cell` for those that are filled. */
  kept: (row: TableRow) => string;
}

export function cellReader(table: Table, keepInNote: readonly string[]): CellReader {
  const at = new Map(table.labels.map((label, column) => [label, column]));
  const cell = (row: TableRow, label: string | null | undefined): string =>
    typeof label === 'string' ? (row.cells[at.get(label) ?? -1] ?? '') : '';
  const kept = (row: TableRow): string =>
    keepInNote
      .map((label) => [label, cell(row, label)] as const)
      .filter(([, text]) => text !== '')
      .map(([label, text]) => `${label}: ${text}`)
      .join('; ');
  return { cell, kept };
}

/** Two pieces of a note as one. */
export function joinNotes(first: string, second: string): string {
  if (first === '' || second === '') return first + second;
  return `${first}; ${second}`;
}

/** Formulas and scripts are text like any other; that they came in is told all the same. */
export function noticeActiveText(row: TableRow, findings: Findings): void {
  for (const cell of row.cells) {
    if (isFormula(cell)) {
      findings.notice(
        'formula-as-text',
        'A cell begins like a formula. It is kept as plain text and never run.',
      );
    }
    if (MARKUP.test(cell)) {
      findings.notice('markup-as-text', 'A cell holds markup. It is kept as plain text and never run.');
    }
  }
}
