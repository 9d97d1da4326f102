import { writeDetails } from '../../shared/records/details.ts';
import { csvLines, culturesCsv, diaryCsv } from '../../shared/records/export.ts';
import { writeExactEntry } from '../../shared/records/write-entry.ts';
import type { Db } from '../plumbing/open-database.ts';
import { makeTurns } from '../plumbing/turns.ts';
import * as tables from '../schema/tables.ts';
import { everything } from './everything.ts';
import {
  contactsSheet,
  exportedCultures,
  linesSheet,
  orderLinesSheet,
  ordersSheet,
  type Sheet,
  tableSheet,
  wholeDiary,
} from './queries-export.ts';
import { standingEntries } from './queries-there.ts';

function* standing(db: Db) {
  for (const rows of standingEntries(db)) yield* rows;
}

const correctionColumns = [
  'Entry',
  'Date',
  'Culture',
  'What',
  'Number',
  'Note',
  'By',
  'Details',
  'State',
  'Instead of entry',
  'Written by',
  'Written at',
  'Via',
];

function* correctedCells(db: Db) {
  for (const { row, code, entry, writtenBy, state } of wholeDiary(db)) {
    const { what, number, note, details } = writeExactEntry(entry);
    const written = new Date(row.madeAt).toISOString();
    const by = row.saidBy ?? writtenBy;
    const first = [row.id, row.onDay, code, what, number, note, by, writeDetails(details), state];
    yield [...first, row.replacesId, writtenBy, written, row.via];
  }
}

const correctedDiaryCsv = (db: Db): Iterable<string> => csvLines(correctionColumns, correctedCells(db));

const csv = (sheet: Sheet): Iterable<string> => csvLines(sheet.header, sheet.rows);

/** What each file of the export holds, by its name. */
export const exportWriters: Record<string, (db: Db, now: number) => Iterable<string>> = {
  'cultures.csv': (db) => culturesCsv(exportedCultures(db)),
  'diary.csv': (db) => diaryCsv(standing(db)),
  'diary-with-corrections.csv': correctedDiaryCsv,
  'species.csv': (db) => csv(tableSheet(db, tables.species, ['importId'])),
  'contacts.csv': (db) => csv(contactsSheet(db)),
  'lines.csv': (db) => csv(linesSheet(db)),
  'enclosures.csv': (db) => csv(tableSheet(db, tables.enclosures, ['importId'])),
  'places.csv': (db) => csv(tableSheet(db, tables.places, ['importId', 'shelfOrder'])),
  'customers.csv': (db) => csv(tableSheet(db, tables.customers, ['version'])),
  'orders.csv': (db) => csv(ordersSheet(db)),
  'order-lines.csv': (db) => csv(orderLinesSheet(db)),
  'people.csv': (db) => csv(tableSheet(db, tables.people, ['passwordHash', 'scheme'])),
  'everything.json': (db, now) => [`${JSON.stringify(everything(db, now), null, 1)}\n`],
};

/** Files about customers, or about who works here. */
export const isPersonal = (name: string) => /^(customers|orders|people|everything)\./.test(name);

export const isExported = (name: string) => Object.hasOwn(exportWriters, name);
export const isCsv = (name: string) => name.endsWith('.csv');

const byteMark = '\uFEFF';

/** A file of the export as text; CSV begins with the mark that lets spreadsheets know it is UTF-8. */
export function exportText(db: Db, name: string, now: number): string | null {
  const write = isExported(name) ? exportWriters[name] : undefined;
  return write ? `${isCsv(name) ? byteMark : ''}${[...write(db, now)].join('')}` : null;
}

/** A piece is read and written while others wait for their pages: short enough that they hardly notice. */
const pieceLength = 8_192;

/** Shared by all that are written just now: thirty of them take longer, and nobody else waits for thirty pieces. */
const myTurn = makeTurns();

/** The same piece by piece, each when the reader has taken the one before; others get their turn between two. */
export async function* exportPieces(db: Db, name: string, now: number): AsyncGenerator<string> {
  const write = isExported(name) ? exportWriters[name] : undefined;
  let piece = isCsv(name) ? byteMark : '';
  await myTurn();
  for (const line of write?.(db, now) ?? []) {
    piece += line;
    if (piece.length < pieceLength) continue;
    yield piece;
    piece = '';
    await myTurn();
  }
  yield piece;
}
