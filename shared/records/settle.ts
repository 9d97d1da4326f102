import { type ColumnFacts, type ColumnGuess, guessColumns, guessEntryColumns } from './columns.ts';
import { type DateEvidence, dateEvidence } from './dates.ts';
import type { FileKind } from './entries.ts';
import { culturesRoles, diaryRoles, type Role } from './header-words.ts';
import type {
  CulturesMapping,
  DiaryMapping,
  Mapping,
  SettledCulturesMapping,
  SettledDiaryMapping,
  SettledMapping,
} from './mapping.ts';
import { guessMeaning, type Meaning, wordForm } from './meanings.ts';
import { reportColumns } from './report.ts';
import { guessDecimalMark } from './rough-numbers.ts';
import { columnCells, type Table } from './table.ts';

/** Something only a person can say; until it is said, nothing is brought in. */
export type Question =
  | { kind: 'columns-needed'; roles: Role[]; message: string }
  | { kind: 'column-not-found'; label: string; message: string }
  | { kind: 'date-order'; column: string; examples: string[]; message: string }
  | { kind: 'serial-dates'; column: string; examples: string[]; message: string };

export interface Settling {
  mapping: SettledMapping;
  guesses: ColumnGuess[];
  questions: Question[];
  dates: DateEvidence | null;
}

/** No colony is taken to hold more where neither the records nor the person know better (our own bound). */
const LARGEST_COLONY = 20_000;

/**
 * Fills a mapping: what was told stays, what was left out is guessed from the table. What cannot be guessed
 * becomes a question.
 */
export function settle(
  table: Table,
  facts: ColumnFacts[],
  kind: FileKind,
  given: Mapping | undefined,
  file: { encoding: SettledMapping['encoding']; delimiter: SettledMapping['delimiter'] },
): Settling {
  const told = given?.kind === kind ? given : undefined;
  const questions: Question[] = [];
  const { columns, guesses } = settleColumns(facts, kind, told, questions);
  const dateColumns = (kind === 'cultures' ? ['foundedOn', 'endedOn'] : ['date'])
    .map((role) => columns.get(role as Role))
    .filter((label) => typeof label === 'string');
  const dates = settleDates(table, dateColumns, told, questions);
  const numbers = cellsOf(table, [columns.get('number'), columns.get('animals')]);
  const common = {
    version: 1 as const,
    encoding: file.encoding,
    delimiter: file.delimiter,
    headerLine: table.headerLine,
    dateOrder: told?.dateOrder ?? dates?.order ?? null,
    serialDates: told?.serialDates ?? null,
    decimalMark: told?.decimalMark ?? guessDecimalMark(numbers),
    codes: told?.codes ?? [],
    largestColony: told?.largestColony ?? LARGEST_COLONY,
    leaveOut: told?.leaveOut ?? [],
    mends: told?.mends ?? [],
  };
  const mapping =
    kind === 'cultures'
      ? settleCultures(common, columns, facts, told as CulturesMapping | undefined)
      : settleDiary(common, columns, facts, told as DiaryMapping | undefined, table, guesses);
  askForColumns(mapping, questions);
  return { mapping, guesses, questions, dates };
}

type Common = Omit<
  SettledCulturesMapping,
  'kind' | 'columns' | 'keepInNote' | 'origins' | 'statuses' | 'foundingAnimals'
>;
type Columns = Map<Role, string | null>;

function settleCultures(
  common: Common,
  columns: Columns,
  facts: ColumnFacts[],
  told: CulturesMapping | undefined,
): SettledCulturesMapping {
  return {
    ...common,
    kind: 'cultures',
    columns: Object.fromEntries(columns) as SettledCulturesMapping['columns'],
    keepInNote: told?.keepInNote ?? unusedColumns(facts, columns, []),
    origins: told?.origins ?? [],
    statuses: told?.statuses ?? [],
    foundingAnimals: told?.foundingAnimals ?? null,
  };
}

function settleDiary(
  common: Common,
  columns: Columns,
  facts: ColumnFacts[],
  told: DiaryMapping | undefined,
  table: Table,
  guesses: ColumnGuess[],
): SettledDiaryMapping {
  const standIn = told?.meaningForAll ?? null;
  const entryColumns = told?.entryColumns ?? (standIn ? [] : guessEntryColumns(facts, guesses));
  if (told?.columns?.number === undefined && entryColumns.includes(columns.get('number') ?? '')) {
    columns.set('number', null);
  }
  const words = new Map<string, Meaning | null>();
  for (const { word, means } of told?.words ?? []) words.set(wordForm(word), means);
  for (const cell of [...entryColumns, ...cellsOf(table, [columns.get('what')])]) {
    const form = wordForm(cell);
    if (form !== '' && !words.has(form) && words.size < 2000 && form.length <= 200)
      words.set(form, guessMeaning(form));
  }
  return {
    ...common,
    kind: 'diary',
    columns: Object.fromEntries(columns) as SettledDiaryMapping['columns'],
    keepInNote: told?.keepInNote ?? unusedColumns(facts, columns, entryColumns),
    entryColumns,
    words: [...words].map(([word, means]) => ({ word, means })),
    codeForAll: told?.codeForAll ?? null,
    meaningForAll: standIn,
    sameRows: told?.sameRows ?? 'keep all',
    lostPercent: told?.lostPercent ?? null,
    waterMl: told?.waterMl ?? null,
  };
}

function settleColumns(
  facts: ColumnFacts[],
  kind: FileKind,
  told: Mapping | undefined,
  questions: Question[],
): { columns: Columns; guesses: ColumnGuess[] } {
  const given = new Map(Object.entries(told?.columns ?? {}) as [Role, string | null][]);
  const labels = new Set(facts.map((column) => column.label));
  const columns: Columns = new Map();
  for (const [role, label] of given) {
    if (label === null || labels.has(label)) columns.set(role, label);
    else {
      columns.set(role, null);
      questions.push({ kind: 'column-not-found', label, message: `This file has no column “${label}”.` });
    }
  }
  const taken = new Set(columns.values());
  const free = facts.filter((column) => !taken.has(column.label));
  const guesses = guessColumns(free, kind).filter((guess) => !columns.has(guess.role));
  for (const role of kind === 'cultures' ? culturesRoles : diaryRoles) {
    if (!columns.has(role)) columns.set(role, guesses.find((guess) => guess.role === role)?.label ?? null);
  }
  return { columns, guesses };
}

function settleDates(
  table: Table,
  labels: readonly string[],
  told: Mapping | undefined,
  questions: Question[],
): DateEvidence | null {
  const [column] = labels;
  if (column === undefined) return null;
  const cells = cellsOf(table, labels);
  const evidence = dateEvidence(cells);
  if (evidence.undecided > 0 && (told?.dateOrder ?? evidence.order) === null) {
    const examples = evidence.examples;
    const message = `In “${column}” day and month can be read either way: ${examples.join(', ')}.`;
    questions.push({ kind: 'date-order', column, examples, message });
  }
  if (evidence.serials > evidence.filled / 2 && (told?.serialDates ?? null) === null) {
    const examples = cells.filter((cell) => /^\d{5}/.test(cell)).slice(0, 3);
    const message = `“${column}” seems to hold day numbers of a spreadsheet: ${examples.join(', ')}.`;
    questions.push({ kind: 'serial-dates', column, examples, message });
  }
  return evidence;
}

function askForColumns(mapping: SettledMapping, questions: Question[]): void {
  const missing: Role[] = [];
  const columns: Partial<Record<Role, string | null>> = mapping.columns;
  const need = (role: Role, otherwise: boolean) => {
    if (!columns[role] && !otherwise) missing.push(role);
  };
  if (mapping.kind === 'cultures') {
    for (const role of ['code', 'species', 'foundedOn'] as const) need(role, false);
  } else {
    need('date', false);
    need('code', mapping.codeForAll !== null);
    need('what', mapping.meaningForAll !== null || mapping.entryColumns.length > 0);
  }
  if (missing.length > 0) {
    const message = `Say which column holds: ${missing.map((role) => roleWords[role] ?? role).join(', ')}.`;
    questions.push({ kind: 'columns-needed', roles: missing, message });
  }
}

const roleWords: Partial<Record<Role, string>> = {
  code: 'the culture code',
  species: 'the species',
  foundedOn: 'the founding day',
  date: 'the date',
  what: 'what was done',
};

function unusedColumns(facts: ColumnFacts[], columns: Columns, entryColumns: readonly string[]): string[] {
  const used = new Set([...columns.values(), ...entryColumns, ...reportColumns]);
  return facts.filter((column) => column.filled > 0 && !used.has(column.label)).map((column) => column.label);
}

function cellsOf(table: Table, labels: readonly (string | null | undefined)[]): string[] {
  return labels.flatMap((label) => {
    const at = typeof label === 'string' ? table.labels.indexOf(label) : -1;
    return at < 0 ? [] : [...columnCells(table, at)];
  });
}
