import type { CountInput } from '../counts/form.ts';

export const fileKinds = ['cultures', 'diary'] as const;
export type FileKind = (typeof fileKinds)[number];

/**
 * A count as a file can tell it. For animals seen, the share that shows belongs to the species: only an export of the
 * product tells what was believed of it then; otherwise the server adds what is believed now.
 */
export type ImportedCount =
  | Exclude<CountInput, { method: 'visible' }>
  | { method: 'visible'; counted: number; detection?: { alpha: number; beta: number } };

export interface CheckEntry {
  kind: 'check';
  surface: 'wet' | 'moist' | 'dry' | null;
  springtails: 'none' | 'few' | 'some' | 'many' | null;
  springtailsWhere: 'low' | 'ranging' | null;
  feedersLeft: 'none' | 'few' | 'plenty' | null;
  youngSeen: boolean | null;
  eggsSeen: boolean | null;
  mouldSeen: boolean | null;
  mitesSeen: boolean | null;
  deaths: number | null;
  note: string;
}

interface Moved {
  animals: number;
  adults: number | null;
  juveniles: number | null;
}

export type PlainKind =
  | 'fruit-in'
  | 'fruit-out'
  | 'mites'
  | 'mould'
  | 'quarantine'
  | 'release'
  | 'retirement'
  | 'note';

/** What one row of a diary says, in the words of the product's own diary. `null` means: not told. */
export type Entry =
  | CheckEntry
  | { kind: 'count'; count: ImportedCount; wording: string | null; note: string }
  | { kind: 'water'; waterMl: number; note: string }
  | { kind: 'feed'; food: string | null; fromCode: string | null; note: string }
  | ({ kind: 'harvest'; toCode: string | null; note: string } & Moved)
  | ({ kind: 'addition'; fromCode: string | null; note: string } & Moved)
  | ({ kind: 'split'; childCode: string; seedingMl: number | null; note: string } & Moved)
  | { kind: 'die-off'; survivalMedian: number; survivalSdLog: number; note: string }
  | { kind: 'move'; place: string[]; note: string }
  | { kind: PlainKind; note: string };

export type SplitEntry = Extract<Entry, { kind: 'split' }>;

/** Two texts by which the same row is known again; the server keeps a hash of each. */
export interface Prints {
  /** What the row means: the same for any file that tells this fact, an export of the product among them. */
  content: string;
  /** What the row says: the same for this file whatever its words are taken to mean. */
  source: string;
}

export interface DiaryRow {
  /** Which file tells it: a split may be told by the founding of the child alone. */
  file: FileKind;
  line: number;
  on: string;
  code: string;
  by: string | null;
  entry: Entry;
  prints: Prints;
}

export interface Parent {
  code: string;
  animals: number;
}

export interface CultureRow {
  line: number;
  code: string;
  /** As written; one name, scientific or common. */
  species: string;
  commonName: string | null;
  morph: string;
  /** The line of descent. Lines of the same name under two species are two lines. */
  lineName: string | null;
  enclosure: string | null;
  /** From the outside in: ['Rack 1', '4']. Empty where no place is told. */
  place: string[];
  foundedOn: string;
  origin: 'wild' | 'bought' | 'split' | 'unknown';
  parents: Parent[];
  foundingAnimals: number;
  /** Standard deviation of the logarithm of the founding animals: wider where the number was rough. */
  foundingSdLog: number;
  status: 'active' | 'quarantine' | 'retired';
  /** Only of a retired culture: the day it ended, told or taken from its last entry. */
  endedOn: string | null;
  note: string;
  prints: Prints;
}
