import type { ColumnGuess } from './columns.ts';
import type { Encoding } from './encoding.ts';
import type { CultureRow, DiaryRow, FileKind } from './entries.ts';
import type { FaultKind, RowFault } from './faults.ts';
import type { SettledMapping } from './mapping.ts';
import type { Meaning } from './meanings.ts';
import type { Notice, NoticeKind } from './notices.ts';
import type { OriginMeaning, StatusMeaning } from './origins.ts';
import type { Question } from './settle.ts';

/** A word of the file, how many rows use it, and what it is taken to mean; null: a person must say. */
export interface WordUse {
  of: 'what' | 'origin' | 'status';
  word: string;
  rows: number;
  means: Meaning | OriginMeaning | StatusMeaning | null;
}

export interface FileReading {
  name: string;
  kind: FileKind;
  /** How sure the guess of the kind is, 0 to 1; 1 where a mapping told it. */
  kindScore: number;
  encoding: Encoding;
  marked: boolean;
  /** How many places could not be read in this encoding; their rows are faulty. */
  replaced: number;
  labels: string[];
  guesses: ColumnGuess[];
  /** Everything as it was taken, told or guessed: this is what a person changes and saves. */
  mapping: SettledMapping;
  questions: Question[];
  words: WordUse[];
  /** Columns whose cells are brought in nowhere, with the number of filled cells. */
  columnsLeftOut: { label: string; filled: number }[];
  /** The first rows, for the preview. */
  sample: { line: number; cells: string[] }[];
  counts: RowCounts;
}

/** Every row below the header is in exactly one of the four: rows = accepted + faulty + leftOut + alreadyThere. */
export interface RowCounts {
  rows: number;
  accepted: number;
  faulty: number;
  leftOut: number;
  alreadyThere: number;
  /** Not among the rows. */
  blank: number;
}

export interface FaultyRow {
  file: FileKind;
  line: number;
  raw: string;
  cells: string[];
  /** Every reason, not only the first. */
  reasons: RowFault[];
}

export interface OtherRow {
  file: FileKind;
  line: number;
  raw: string;
  cells: string[];
  why: string;
}

export interface FaultyKind {
  kind: FaultKind;
  file: FileKind;
  title: string;
  mend: string;
  rows: number;
  lines: number[];
  leftOut: boolean;
}

export interface NoticeGroup {
  kind: NoticeKind;
  file: FileKind;
  title: string;
  rows: number;
  lines: number[];
}

/** What an import would do, and everything a person must see before it does. */
export interface ImportReading {
  files: FileReading[];
  /** In the order in which they can be founded: parents before children. */
  cultures: CultureRow[];
  /** In the order of days; entries of one day in the order of the file. */
  diary: DiaryRow[];
  faulty: FaultyRow[];
  faultyKinds: FaultyKind[];
  /** Left out knowingly: by a word, by the kind of fault, or as the same row again. Lines above the header too. */
  leftOut: OtherRow[];
  /** In the records already. */
  alreadyThere: OtherRow[];
  notices: Notice[];
  noticeGroups: NoticeGroup[];
  summary: Summary;
  /** No question is open and no faulty row is left that nobody decided about. */
  ready: boolean;
}

export interface Summary {
  cultures: number;
  entries: Record<string, number>;
  firstDay: string | null;
  lastDay: string | null;
  species: { name: string; commonName: string | null; cultures: number }[];
  lines: { name: string; species: string; cultures: number }[];
  enclosures: { name: string; cultures: number }[];
  places: { place: string[]; cultures: number }[];
  people: { name: string; rows: number }[];
  splits: { fromBoth: number; fromDiary: number; fromFounding: number; known: number };
}
