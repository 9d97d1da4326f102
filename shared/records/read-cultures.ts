import { cultureCode, foundingDoubt } from '../cultures/form.ts';
import { type CellReader, cellReader, joinNotes, noticeActiveText } from './cells.ts';
import { codeForm } from './codes.ts';
import { readDate } from './dates.ts';
import type { FaultKind } from './faults.ts';
import { Findings } from './findings.ts';
import type { CulturesRole } from './header-words.ts';
import type { SettledCulturesMapping } from './mapping.ts';
import { wordForm } from './meanings.ts';
import { guessStatus, type StatusMeaning } from './origins.ts';
import { readPlace } from './places.ts';
import { readAnimals } from './read-entry.ts';
import { plainNumber } from './rough-numbers.ts';
import { morphInName } from './species-guess.ts';
import type { Table, TableRow } from './table.ts';

/** A row of a file of cultures while it is read: what could be read of it, and what was found wrong. */
export interface CultureDraft {
  row: TableRow;
  findings: Findings;
  code: string | null;
  species: string;
  commonName: string | null;
  morph: string;
  lineName: string | null;
  enclosure: string | null;
  place: string[];
  foundedOn: string | null;
  originText: string;
  origin: 'wild' | 'bought' | 'split' | 'unknown';
  /** Parents with the animals each gave, where a split tells it. */
  parents: { code: string; animals: number | null }[];
  foundingAnimals: number | null;
  /** Told by an export of the product; else it follows from how the number is put. */
  foundingSdLog: number;
  status: StatusMeaning;
  endedOn: string | null;
  note: string;
}

interface Reading {
  mapping: SettledCulturesMapping;
  cells: CellReader;
  today: string;
  statuses: Map<string, StatusMeaning | null>;
}

const LONGEST: Partial<Record<CulturesRole, number>> = {
  species: 120,
  commonName: 120,
  morph: 80,
  lineName: 80,
  enclosure: 80,
};
const LONGEST_NOTE = 4000;

/** Reads the rows of a file of cultures one by one; what only shows across rows comes after. */
export function readCultures(table: Table, mapping: SettledCulturesMapping, today: string): CultureDraft[] {
  const cells = cellReader(table, mapping.keepInNote);
  const statuses = new Map(mapping.statuses.map(({ word, means }) => [wordForm(word), means]));
  const reading = { mapping, cells, today, statuses };
  const drafts = table.rows.map((row) => readRow(row, reading));
  refuseDoubles(drafts, mapping.columns.code ?? null);
  return drafts;
}

function readRow(row: TableRow, reading: Reading): CultureDraft {
  const findings = new Findings();
  findings.faults.push(...row.faults);
  const { columns } = reading.mapping;
  const cell = (role: CulturesRole) => reading.cells.cell(row, columns[role]);
  // Where a column of its own holds the morphs, the name is as it was meant.
  const quoted = columns.morph ? null : morphInName(cell('species'));
  const draft: CultureDraft = {
    row,
    findings,
    code: null,
    species: quoted?.species ?? cell('species'),
    commonName: cell('commonName') || null,
    morph: quoted?.morph ?? cell('morph'),
    lineName: cell('lineName') || null,
    enclosure: cell('enclosure') || null,
    place: readPlace(cell('place')),
    foundedOn: null,
    originText: cell('origin'),
    origin: 'unknown',
    parents: [],
    foundingAnimals: null,
    foundingSdLog: foundingDoubt.exact,
    status: 'active',
    endedOn: null,
    note: joinNotes(cell('note'), reading.cells.kept(row)),
  };
  // The cells of such a row may stand in the wrong columns: reading them would only add faults that are none.
  if (row.faults.some((fault) => fault.kind === 'ragged' || fault.kind === 'quotes-broken')) return draft;
  noticeActiveText(row, findings);
  readCode(draft, cell('code'), columns.code ?? null);
  if (draft.species === '') {
    findings.fault('species-missing', 'The species is not told.', columns.species ?? null);
  }
  checkLengths(draft, cell, columns);
  draft.foundedOn = readDay(cell('foundedOn'), columns.foundedOn ?? null, reading, findings, 'date-missing');
  readFounders(draft, cell('animals'), reading);
  readFoundersDoubt(draft, cell('foundingSdLog'), columns.foundingSdLog ?? null);
  readStatus(draft, cell('status'), cell('endedOn'), reading);
  return draft;
}

function readCode(draft: CultureDraft, text: string, column: string | null): void {
  if (text === '') {
    draft.findings.fault('code-missing', 'The culture has no code.', column);
    return;
  }
  const code = text.replace(/\s+/g, '-');
  const usable = cultureCode.safeParse(code);
  if (!usable.success) {
    draft.findings.fault('code-not-usable', `“${text.slice(0, 40)}” cannot be a code.`, column);
    return;
  }
  if (code !== text) draft.findings.notice('code-tidied', `“${text}” becomes ${code}: codes have no spaces.`);
  draft.code = code;
}

function readDay(
  text: string,
  column: string | null,
  reading: Reading,
  findings: Findings,
  whenMissing: FaultKind | null,
): string | null {
  if (text === '' && whenMissing === null) return null;
  const { dateOrder: order, serialDates: serial } = reading.mapping;
  const read = readDate(text, { order, serial });
  if ('fault' in read) return findings.fault(read.fault, read.reason, column);
  if (read.on > reading.today) {
    return findings.fault('date-in-future', `${read.on} is after today, ${reading.today}.`, column);
  }
  if (read.twoDigitYear) findings.notice('two-digit-year', `“${text}” is taken as ${read.on}.`);
  if (read.timeLeft) findings.notice('time-left-out', `“${text}” is taken as the day ${read.on}.`);
  return read.on;
}

function readFounders(draft: CultureDraft, text: string, reading: Reading): void {
  const { columns, decimalMark, largestColony } = reading.mapping;
  const numberColumn = columns.animals ?? null;
  // No number is no fault yet: a split in the diary may tell it.
  if (text === '') return;
  const read = readAnimals({ number: text }, { mark: decimalMark, numberColumn }, draft.findings);
  if (!read) return;
  if (read.value === 0)
    draft.findings.fault('number-zero', 'A colony is not founded by 0 animals.', numberColumn);
  if (read.value > largestColony) {
    const reason = `${read.value} animals: no colony is taken to hold more than ${largestColony}.`;
    draft.findings.fault('number-too-large', reason, numberColumn);
  }
  draft.foundingAnimals = read.value;
  if (read.wording === null) return;
  draft.foundingSdLog = foundingDoubt.about;
  draft.note = joinNotes(draft.note, `Founding animals: ${read.wording}`);
}

function readFoundersDoubt(draft: CultureDraft, text: string, column: string | null): void {
  if (text === '') return;
  const sdLog = plainNumber(text, '.');
  if (sdLog !== null && sdLog <= 3) draft.foundingSdLog = sdLog;
  else
    draft.findings.fault('number-not-understood', `“${text.slice(0, 40)}” is no number from 0 to 3.`, column);
}

function readStatus(draft: CultureDraft, text: string, endText: string, reading: Reading): void {
  const { columns } = reading.mapping;
  const { findings } = draft;
  if (text !== '') {
    const told = reading.statuses.get(wordForm(text));
    const status = told ?? guessStatus(text);
    if (status) draft.status = status;
    else
      findings.fault(
        'status-not-understood',
        `“${text.slice(0, 80)}” is not understood.`,
        columns.status ?? null,
      );
  }
  draft.endedOn = readDay(endText, columns.endedOn ?? null, reading, findings, null);
  if (draft.endedOn === null) return;
  draft.status = 'retired';
  if (draft.foundedOn !== null && draft.endedOn < draft.foundedOn) {
    const reason = `It ended on ${draft.endedOn}, before it was founded on ${draft.foundedOn}.`;
    findings.fault('date-before-founding', reason, columns.endedOn ?? null);
  }
}

function checkLengths(
  draft: CultureDraft,
  cell: (role: CulturesRole) => string,
  columns: SettledCulturesMapping['columns'],
): void {
  for (const [role, longest] of Object.entries(LONGEST) as [CulturesRole, number][]) {
    if (cell(role).length > longest) {
      draft.findings.fault(
        'text-too-long',
        `The text has more than ${longest} characters.`,
        columns[role] ?? null,
      );
    }
  }
  if (draft.place.some((part) => part.length > 80)) {
    draft.findings.fault(
      'text-too-long',
      'A part of the place has more than 80 characters.',
      columns.place ?? null,
    );
  }
  if (draft.note.length > LONGEST_NOTE) {
    draft.findings.fault(
      'text-too-long',
      `The note has more than ${LONGEST_NOTE} characters.`,
      columns.note ?? null,
    );
  }
}

/** The first row keeps the code; each later one is told the line of the first. */
function refuseDoubles(drafts: CultureDraft[], column: string | null): void {
  const first = new Map<string, CultureDraft>();
  for (const draft of drafts) {
    if (draft.code === null) continue;
    const form = codeForm(draft.code);
    const earlier = first.get(form);
    if (earlier) {
      const reason = `Line ${earlier.row.line} has the code ${earlier.code} already.`;
      draft.findings.fault('duplicate-code', reason, column);
    } else first.set(form, draft);
  }
}
