import { type CellReader, cellReader, joinNotes, noticeActiveText } from './cells.ts';
import { type CultureBook, cultureFinder } from './culture-book.ts';
import { readDate } from './dates.ts';
import { type Details, readDetails } from './details.ts';
import type { Entry } from './entries.ts';
import { readExactEntry } from './exact-entry.ts';
import { Findings } from './findings.ts';
import type { SettledDiaryMapping } from './mapping.ts';
import { type Meaning, wordForm } from './meanings.ts';
import { type EntryContext, readEntry } from './read-entry.ts';
import type { Table, TableRow } from './table.ts';

/** One thing a row tells, and the text it tells it in. */
export interface Told {
  meaning: Meaning;
  entry: Entry | null;
  source: string;
}

/** A row of a diary while it is read: what could be read of it, and what was found wrong. */
export interface DiaryDraft {
  row: TableRow;
  findings: Findings;
  on: string | null;
  code: string | null;
  by: string | null;
  told: Told[];
  /** Why the row is left out though nothing is wrong with it. */
  leftOut: string | null;
}

interface Reading {
  mapping: SettledDiaryMapping;
  cells: CellReader;
  book: CultureBook;
  today: string;
  words: Map<string, Meaning | null>;
  context: EntryContext;
}

const LONGEST_NOTE = 4000;
const LONGEST_NAME = 120;
const NOT_SO = /^(?:no|n|0|-|–|none|nil|false|x?-)$/i;
const JUST_SO = /^(?:yes|y|x|1|true|✓|✔)$/i;
const PLAIN = new Set<Meaning>([
  'mites',
  'mould',
  'fruit in',
  'fruit out',
  'quarantine',
  'release',
  'retirement',
]);
const COUNTED = new Set<Meaning>([
  'visible count',
  'full count',
  'sample count',
  'removal count',
  'mark-recapture count',
  'water',
  'harvest',
  'addition',
  'split',
  'deaths',
]);

/** Reads the rows of a diary one by one against the cultures it may speak of. */
export function readDiary(
  table: Table,
  mapping: SettledDiaryMapping,
  book: CultureBook,
  today: string,
): DiaryDraft[] {
  const { columns } = mapping;
  const context: EntryContext = {
    mark: mapping.decimalMark,
    numberColumn: columns.number ?? null,
    noteColumn: columns.note ?? null,
    largestColony: mapping.largestColony,
    lostPercent: mapping.lostPercent,
    waterMl: mapping.waterMl,
    findCulture: cultureFinder(book, mapping.codes),
  };
  const words = new Map(mapping.words.map(({ word, means }) => [wordForm(word), means]));
  const reading = { mapping, cells: cellReader(table, mapping.keepInNote), book, today, words, context };
  return table.rows.map((row) => readRow(row, reading));
}

function readRow(row: TableRow, reading: Reading): DiaryDraft {
  const findings = new Findings();
  findings.faults.push(...row.faults);
  const draft: DiaryDraft = { row, findings, on: null, code: null, by: null, told: [], leftOut: null };
  // The cells of such a row may stand in the wrong columns: reading them would only add faults that are none.
  if (row.faults.some((fault) => fault.kind === 'ragged' || fault.kind === 'quotes-broken')) return draft;
  noticeActiveText(row, findings);
  const { columns } = reading.mapping;
  draft.by = reading.cells.cell(row, columns.by) || null;
  if (draft.by !== null && draft.by.length > LONGEST_NAME) {
    findings.fault('text-too-long', `The name has more than ${LONGEST_NAME} characters.`, columns.by ?? null);
  }
  readDay(draft, reading);
  readCulture(draft, reading);
  readTold(draft, reading);
  return draft;
}

function readDay(draft: DiaryDraft, reading: Reading): void {
  const { dateOrder: order, serialDates: serial, columns } = reading.mapping;
  const column = columns.date ?? null;
  const text = reading.cells.cell(draft.row, column);
  const read = readDate(text, { order, serial });
  if ('fault' in read) {
    draft.findings.fault(read.fault, read.reason, column);
    return;
  }
  if (read.on > reading.today) {
    draft.findings.fault('date-in-future', `${read.on} is after today, ${reading.today}.`, column);
    return;
  }
  if (read.twoDigitYear) draft.findings.notice('two-digit-year', `“${text}” is taken as ${read.on}.`);
  if (read.timeLeft) draft.findings.notice('time-left-out', `“${text}” is taken as the day ${read.on}.`);
  draft.on = read.on;
}

function readCulture(draft: DiaryDraft, reading: Reading): void {
  const column = reading.mapping.columns.code ?? null;
  const text = reading.cells.cell(draft.row, column) || (reading.mapping.codeForAll ?? '');
  const { findings } = draft;
  if (text === '') {
    findings.fault('code-missing', 'The culture is not named.', column);
    return;
  }
  const match = reading.context.findCulture(text);
  if (match === null) findings.fault('code-unknown', `There is no culture “${text.slice(0, 80)}”.`, column);
  else if ('ambiguous' in match) {
    findings.fault('code-ambiguous', `“${text}” fits ${match.ambiguous.join(', ')}.`, column);
  } else {
    draft.code = match.code;
    if (text !== match.code) findings.notice('code-as-in-records', `“${text}” is taken as ${match.code}.`);
    const foundedOn = reading.book.byCode.get(match.code)?.foundedOn ?? null;
    if (draft.on !== null && foundedOn !== null && draft.on < foundedOn) {
      const reason = `${draft.on} is before ${match.code} was founded on ${foundedOn}.`;
      findings.fault('date-before-founding', reason, reading.mapping.columns.date ?? null);
    }
  }
}

function readTold(draft: DiaryDraft, reading: Reading): void {
  const { columns, entryColumns, meaningForAll } = reading.mapping;
  const cell = (label: string | null | undefined) => reading.cells.cell(draft.row, label);
  const kept = reading.cells.kept(draft.row);
  let note = cell(columns.note);
  const word = cell(columns.what);
  const whatTells = word !== '' || (meaningForAll !== null && entryColumns.length === 0);
  if (whatTells) {
    const meaning = word === '' ? meaningForAll : meaningOf(word, draft, reading);
    if (meaning)
      tell(draft, meaning, word || meaning, cell(columns.number), note, cell(columns.details), kept, reading);
    note = '';
  }
  for (const label of entryColumns) {
    const text = cell(label);
    if (text === '') continue;
    const meaning = meaningOf(label, draft, reading);
    const plainNo = meaning !== null && !COUNTED.has(meaning) && NOT_SO.test(text);
    if (!meaning || plainNo || (meaning === 'deaths' && /^0+$/.test(text))) continue;
    const [number, said] = COUNTED.has(meaning)
      ? [text, '']
      : ['', PLAIN.has(meaning) && JUST_SO.test(text) ? '' : text];
    // The row's own note goes with the first thing it tells.
    const first = draft.told.length === 0 && draft.leftOut === null;
    tell(draft, meaning, label, number, said, '', first ? joinNotes(note, kept) : '', reading);
    if (first) note = '';
  }
  // A column that is left out does not take along what the rest of its row tells.
  if (draft.told.length > 0) draft.leftOut = null;
  if (draft.told.length > 0 || draft.leftOut !== null || whatTells) return;
  if (note !== '' && entryColumns.length > 0) tell(draft, 'note', 'note', '', note, '', kept, reading);
  else if (draft.findings.faults.length === 0 || entryColumns.length === 0) {
    draft.findings.fault(
      'word-missing',
      'The row does not tell what was done or seen.',
      columns.what ?? null,
    );
  }
}

function meaningOf(word: string, draft: DiaryDraft, reading: Reading): Meaning | null {
  const meaning = reading.words.get(wordForm(word)) ?? null;
  if (meaning) return meaning;
  const column = reading.mapping.columns.what ?? null;
  return draft.findings.fault('word-not-understood', `“${word.slice(0, 80)}” is not understood.`, column);
}

function tell(
  draft: DiaryDraft,
  meaning: Meaning,
  word: string,
  number: string,
  note: string,
  detailsCell: string,
  added: string,
  reading: Reading,
): void {
  const { findings } = draft;
  if (meaning === 'leave out') {
    draft.leftOut = `“${word}” is left out.`;
    return;
  }
  const source = JSON.stringify([wordForm(word), number, note, detailsCell, added]);
  const detailsColumn = reading.mapping.columns.details ?? null;
  const details = detailsCell === '' ? null : readDetails(detailsCell);
  if (detailsCell !== '' && details === null) {
    findings.fault(
      'details-not-understood',
      'The details are not “name: value”, parted by semicolons.',
      detailsColumn,
    );
  }
  const entry = details
    ? readExact(meaning, number, note, details, detailsColumn, reading, findings)
    : readEntry(
        { meaning, number, note: meaning === 'note' ? joinNotes(note, added) : note, code: draft.code },
        reading.context,
        findings,
      );
  if (entry && meaning !== 'note') entry.note = joinNotes(entry.note, added);
  if (entry && entry.note.length > LONGEST_NOTE) {
    findings.fault(
      'text-too-long',
      `The note has more than ${LONGEST_NOTE} characters.`,
      reading.context.noteColumn,
    );
  }
  draft.told.push({ meaning, entry, source });
}

function readExact(
  meaning: Exclude<Meaning, 'leave out'>,
  number: string,
  note: string,
  details: Details,
  detailsColumn: string | null,
  reading: Reading,
  findings: Findings,
): Entry | null {
  const { numberColumn, findCulture } = reading.context;
  return readExactEntry(
    { meaning, number, note, details },
    { numberColumn, detailsColumn, findCulture },
    findings,
  );
}
