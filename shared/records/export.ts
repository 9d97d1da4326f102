import { writeRecords } from './csv.ts';
import { writeDetails } from './details.ts';
import type { CultureRow, DiaryRow } from './entries.ts';
import { neutralise } from './neutralise.ts';
import { writePlace } from './places.ts';
import { writeExactEntry } from './write-entry.ts';

const culturesExportColumns = [
  'Code',
  'Species',
  'Common name',
  'Morph',
  'Line',
  'Enclosure',
  'Place',
  'Founded on',
  'Origin',
  'Founding animals',
  'Founding sd log',
  'Status',
  'Ended on',
  'Note',
] as const;

const diaryExportColumns = ['Date', 'Culture', 'What', 'Number', 'Note', 'By', 'Details'] as const;

const ROWS_AT_ONCE = 100;

/**
 * A CSV file (RFC 4180) with any columns, piece by piece: the header, then a hundred rows at a time, each row with
 * its line end; text that a spreadsheet would run is neutralised.
 */
export function* csvLines(
  header: readonly string[],
  rows: Iterable<readonly (string | number | null)[]>,
): Generator<string> {
  yield writeRecords([header.map(neutralise)]);
  let waiting: string[][] = [];
  for (const row of rows) {
    waiting.push(row.map((cell) => neutralise(cell ?? '')));
    if (waiting.length < ROWS_AT_ONCE) continue;
    yield writeRecords(waiting);
    waiting = [];
  }
  if (waiting.length > 0) yield writeRecords(waiting);
}

/** Cultures as a CSV file that `readImport` reads back as they are, without a mapping. */
export function culturesCsv(rows: Iterable<Omit<CultureRow, 'line' | 'prints'>>): Generator<string> {
  return csvLines(culturesExportColumns, mapped(rows, cultureCells));
}

/** A diary as a CSV file that `readImport` reads back as it is, without a mapping. */
export function diaryCsv(rows: Iterable<Pick<DiaryRow, 'on' | 'code' | 'by' | 'entry'>>): Generator<string> {
  return csvLines(diaryExportColumns, mapped(rows, diaryCells));
}

function cultureCells(row: Omit<CultureRow, 'line' | 'prints'>): (string | number | null)[] {
  const parents = row.parents.map((parent) => parent.code).join(' + ');
  return [
    row.code,
    row.species,
    row.commonName,
    row.morph,
    row.lineName,
    row.enclosure,
    writePlace(row.place),
    row.foundedOn,
    row.origin === 'split' ? parents : row.origin === 'unknown' ? '' : row.origin,
    row.foundingAnimals,
    row.foundingSdLog,
    row.status,
    row.endedOn,
    row.note,
  ];
}

function diaryCells(row: Pick<DiaryRow, 'on' | 'code' | 'by' | 'entry'>): (string | number | null)[] {
  const { what, number, note, details } = writeExactEntry(row.entry);
  return [row.on, row.code, what, number, note, row.by, writeDetails(details)];
}

function* mapped<T, U>(items: Iterable<T>, change: (item: T) => U): Generator<U> {
  for (const item of items) yield change(item);
}
