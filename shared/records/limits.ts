/** What a file of records may be at most; beyond it the whole file is refused with a RecordsError. */
export const limits = {
  bytes: 10 * 1024 * 1024,
  rows: 200_000,
  columns: 200,
  /** A longer cell makes its row faulty, not the file. */
  cellChars: 10_000,
  /** A quoted cell over more lines than this is taken for a quotation mark that was never closed. */
  cellLines: 50,
} as const;

export type RecordsErrorKind =
  | 'empty'
  | 'too-large'
  | 'spreadsheet-file'
  | 'not-text'
  | 'too-many-rows'
  | 'too-many-columns'
  | 'mapping-wrong'
  | 'two-of-a-kind';

/** A file that cannot be read at all: the message says what to do, `kind` is for the program. */
export class RecordsError extends Error {
  readonly kind: RecordsErrorKind;
  readonly line: number | null;

  constructor(kind: RecordsErrorKind, message: string, line: number | null = null) {
    super(message);
    this.name = 'RecordsError';
    this.kind = kind;
    this.line = line;
  }
}
