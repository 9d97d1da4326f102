import type { KnownCulture } from '../../shared/records/culture-book.ts';
import type { ImportFile } from '../../shared/records/open-file.ts';
import { readImport } from '../../shared/records/read-import.ts';
import type { ImportReading } from '../../shared/records/result.ts';
import { hashPrint } from './hash-print.ts';

/** All that is needed to read files, as plain data: it can travel to a thread. */
export type ReadInput = {
  files: ImportFile[];
  today: string;
  known: KnownCulture[];
  synonyms: string[][];
  /** Hashes of the prints of every row that the records hold. */
  there: string[];
};

/** Reads files against what the records hold. Throws a RecordsError where a file cannot be read at all. */
export function readFiles({ files, today, known, synonyms, there }: ReadInput): ImportReading {
  const held = new Set(there);
  // With nothing held yet no print need be hashed.
  const isThere = (prints: { content: string; source: string }) =>
    held.size > 0 && (held.has(hashPrint(prints.content)) || held.has(hashPrint(prints.source)));
  return readImport(files, { today, known, synonyms, isThere });
}
