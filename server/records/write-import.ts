import type { DiaryRow, FileKind } from '../../shared/records/entries.ts';
import type { FileReading } from '../../shared/records/result.ts';
import { note } from '../plumbing/audit.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { Look } from './look.ts';
import type { By } from './queries-drafts.ts';
import { insertImport } from './queries-imports.ts';
import { readBook, stockMark } from './queries-stock.ts';
import { keepStandings, readStandings } from './queries-touched.ts';
import {
  afterEntries,
  type Importing,
  standingRows,
  writeCultures,
  writeEntries,
  writePrints,
} from './write-rows.ts';
import { writeStock } from './write-stock.ts';

/** The records changed since the files were read: they must be read again before anything is written. */
export class ReadAgain extends Error {}

export type BroughtIn = { importId: number; rows: number; cultures: number };

/**
 * Writes all that a look found ready, or nothing: call it in a write transaction. Estimates are left to be worked out
 * afterwards. Throws ReadAgain when the records are not those that were looked at.
 */
export function writeImport(tx: Db, look: Look, by: By): BroughtIn {
  if (!look.ready) throw new Error('something is open');
  if (stockMark(tx) !== look.mark) throw new ReadAgain();
  const { reading, plan, speciesKey } = look;
  const importIds = insertImports(tx, look, by);
  const first = [...importIds.values()][0]!;
  const importingOf = (file: FileKind): Importing => ({ ...by, importId: importIds.get(file) ?? first });
  const ids = writeStock(tx, plan, first);
  const book = readBook(tx);
  const rows = [...reading.diary, ...standingRows(reading.cultures, reading.diary)].sort(byDay);
  const fresh = new Set(reading.cultures.map((culture) => culture.code));
  const touched = readStandings(
    tx,
    [...new Set(rows.map((row) => row.code))]
      .filter((code) => !fresh.has(code))
      .map((code) => book.get(code)!.id),
  );
  keepStandings(tx, first, touched);
  writeCultures(tx, reading.cultures, { book, ids, speciesKey, importing: importingOf('cultures') });
  writeEntries(tx, rows, { book, ids, importingOf });
  afterEntries(tx, rows, book, touched);
  writePrints(tx, [
    ...reading.cultures.map((row) => [row.prints, importingOf('cultures').importId] as const),
    ...reading.diary.map((row) => [row.prints, importingOf(row.file).importId] as const),
  ]);
  const counts = reading.files.reduce((sum, file) => sum + file.counts.accepted, 0);
  const after = { files: reading.files.map((file) => file.name), rows: counts };
  note(tx, { at: by.now, personId: by.personId, action: 'brought in', subject: `import ${first}`, after });
  return { importId: first, rows: counts, cultures: reading.cultures.length };
}

/** Cultures first: what they bring is what the diary stands on. */
function insertImports(tx: Db, { reading }: Look, by: By): Map<FileKind, number> {
  const ids = new Map<FileKind, number>();
  const order = (file: FileReading) => (file.kind === 'cultures' ? 0 : 1);
  for (const file of [...reading.files].sort((a, b) => order(a) - order(b))) {
    const leftOut = reading.leftOut.filter((row) => row.file === file.kind);
    ids.set(file.kind, insertImport(tx, { file, leftOut, by, firstId: [...ids.values()][0] ?? null }));
  }
  return ids;
}

const byDay = (a: DiaryRow, b: DiaryRow) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0);
