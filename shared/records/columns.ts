import { looksLikeCode } from './codes.ts';
import { looksLikeDate } from './dates.ts';
import type { FileKind } from './entries.ts';
import {
  type CulturesRole,
  culturesHeaders,
  culturesRoles,
  type DiaryRole,
  diaryHeaders,
  diaryRoles,
  headerScore,
  type Role,
} from './header-words.ts';
import { guessMeaning } from './meanings.ts';
import { looksLikeNumber } from './rough-numbers.ts';
import { columnCells, type Table } from './table.ts';

/** What the cells of a column look like: shares of the filled cells among the first few hundred. */
export interface ColumnFacts {
  label: string;
  filled: number;
  /** The share of filled cells that no other cell repeats the text of, over all rows. */
  distinct: number;
  dates: number;
  numbers: number;
  codes: number;
  meanings: number;
  latinNames: number;
  places: number;
  origins: number;
}

/** The column that most likely has a role, and how likely, from 0 to 1. */
export interface ColumnGuess {
  role: Role;
  label: string;
  score: number;
}

const LOOK_AT = 300;
const LEAST_SCORE = 0.35;

export function columnFacts(table: Table): ColumnFacts[] {
  return table.labels.map((label, column) => {
    const sample: string[] = [];
    const distinct = new Set<string>();
    let filled = 0;
    for (const cell of columnCells(table, column)) {
      if (cell === '') continue;
      filled += 1;
      distinct.add(cell);
      if (sample.length < LOOK_AT) sample.push(cell);
    }
    const share = (test: (cell: string) => boolean) =>
      sample.length ? sample.filter(test).length / sample.length : 0;
    return {
      label,
      filled,
      distinct: filled ? distinct.size / filled : 0,
      dates: share(looksLikeDate),
      numbers: share(looksLikeNumber),
      codes: share(looksLikeCode),
      meanings: share((cell) => guessMeaning(cell) !== null),
      latinNames: share((cell) => /^\p{Lu}\p{Ll}+ (?:cf\. |aff\. )?(?:\p{Ll}+|sp\.?)/u.test(cell)),
      places: share((cell) => /[/>]|\b(?:rack|shelf|room|closet|cupboard|cabinet)\b/i.test(cell)),
      origins: share((cell) => looksLikeCode(cell) || /^(?:wild|bought|wc|cb|purchased|trade)/i.test(cell)),
    };
  });
}

/**
 * Which column has which role, by its header and by what stands in it. A column has one role at most, a role one
 * column; a role no column fits well enough is not there.
 *
 * @example guessColumns(facts, 'diary') // [{ role: 'date', label: 'Date', score: 1 }, ...]
 */
export function guessColumns(facts: readonly ColumnFacts[], kind: FileKind): ColumnGuess[] {
  const roles: readonly Role[] = kind === 'cultures' ? culturesRoles : diaryRoles;
  const all = roles.flatMap((role) =>
    facts.map((column) => ({ role, label: column.label, score: scoreOf(column, role, kind) })),
  );
  all.sort((a, b) => b.score - a.score);
  const chosen: ColumnGuess[] = [];
  for (const guess of all) {
    if (guess.score < LEAST_SCORE) break;
    if (chosen.some((other) => other.role === guess.role || other.label === guess.label)) continue;
    chosen.push({ ...guess, score: Math.round(guess.score * 100) / 100 });
  }
  return chosen;
}

/** Columns that each stand for something done, in a diary that has no column for it: `Water (ml)`, `Fed`. */
export function guessEntryColumns(facts: readonly ColumnFacts[], guesses: readonly ColumnGuess[]): string[] {
  if (guesses.some((guess) => guess.role === 'what')) return [];
  const taken = new Set(guesses.filter((guess) => guess.role !== 'number').map((guess) => guess.label));
  return facts
    .filter((column) => !taken.has(column.label) && column.filled > 0 && guessMeaning(column.label) !== null)
    .map((column) => column.label);
}

/** What kind of file it is, and how sure that is from 0 to 1: a list of cultures names each code once. */
export function guessKind(facts: readonly ColumnFacts[]): { kind: FileKind; score: number } {
  const cultures = guessColumns(facts, 'cultures');
  const diary = guessColumns(facts, 'diary');
  const mean = (guesses: ColumnGuess[], needed: readonly Role[]) =>
    needed.reduce((sum, role) => sum + (guesses.find((guess) => guess.role === role)?.score ?? 0), 0) /
    needed.length;
  let asCultures = mean(cultures, ['code', 'species', 'foundedOn'] satisfies CulturesRole[]);
  let asDiary = mean(diary, ['date', 'code', 'what'] satisfies DiaryRole[]);
  if (guessEntryColumns(facts, diary).length > 0) asDiary += 0.25;
  const codeLabel = diary.find((guess) => guess.role === 'code')?.label;
  const code = facts.find((column) => column.label === codeLabel);
  if (code && code.filled > 2) {
    if (code.distinct > 0.95) asCultures += 0.2;
    else asDiary += 0.2;
  }
  const kind = asCultures > asDiary ? 'cultures' : 'diary';
  return { kind, score: Math.round(Math.min(1, Math.max(asCultures, asDiary)) * 100) / 100 };
}

function scoreOf(column: ColumnFacts, role: Role, kind: FileKind): number {
  const words = kind === 'cultures' ? culturesHeaders[role as CulturesRole] : diaryHeaders[role as DiaryRole];
  const header = headerScore(column.label, words);
  const content = contentScore(column, role);
  if (content === null || column.filled === 0) return 0.7 * header;
  if (header === 0) return content >= 0.8 ? 0.5 * content : 0;
  // Where the cells say otherwise a header is weak: any column whose cells fit as well goes before it.
  return content < 0.2 ? 0.4 * header : 0.6 * header + 0.4 * content;
}

function contentScore(column: ColumnFacts, role: Role): number | null {
  switch (role) {
    case 'date':
    case 'foundedOn':
    case 'endedOn':
      return column.dates;
    case 'code':
      return Math.max(0.25, column.codes);
    case 'what':
      return column.meanings;
    case 'number':
    case 'animals':
      return column.dates > 0.5 ? 0 : column.numbers;
    case 'species':
      return Math.max(0.3, column.latinNames);
    case 'place':
      return Math.max(0.3, column.places);
    case 'origin':
      return Math.max(0.3, column.origins);
    default:
      return null;
  }
}
