import { type ColumnFacts, columnFacts, guessKind } from './columns.ts';
import { guessDelimiter } from './delimiter.ts';
import { type DecodedText, decodeText } from './encoding.ts';
import type { FileKind } from './entries.ts';
import type { Mapping } from './mapping.ts';
import { type Settling, settle } from './settle.ts';
import { readTable, type Table } from './table.ts';

export interface ImportFile {
  name: string;
  bytes: Uint8Array;
  /** What the person or a saved mapping says; the rest is guessed. */
  mapping?: Mapping;
}

/** A file as a table of text, with everything settled that is needed to read its rows. */
export interface OpenedFile {
  name: string;
  kind: FileKind;
  kindScore: number;
  decoded: Omit<DecodedText, 'text'>;
  table: Table;
  facts: ColumnFacts[];
  settling: Settling;
}

/** Opens a file: encoding, delimiter, header, kind, columns. Throws a RecordsError where it cannot be read at all. */
export function openFile(file: ImportFile): OpenedFile {
  const told = file.mapping;
  const { text, ...decoded } = decodeText(file.bytes, told?.encoding);
  const delimiter = told?.delimiter ?? guessDelimiter(text);
  const table = readTable(text, delimiter, {
    headerLine: told?.headerLine,
    mends: told?.mends,
    unreadable: decoded.replaced > 0,
  });
  const facts = columnFacts(table);
  const guess = told ? { kind: told.kind, score: 1 } : guessKind(facts);
  const settling = settle(table, facts, guess.kind, told, { encoding: decoded.encoding, delimiter });
  return { name: file.name, kind: guess.kind, kindScore: guess.score, decoded, table, facts, settling };
}

/** Whether the rows can be read at all: without a column for the date there is nothing to say about any of them. */
export function isReadable(file: OpenedFile): boolean {
  return !file.settling.questions.some((question) => question.kind === 'columns-needed');
}
