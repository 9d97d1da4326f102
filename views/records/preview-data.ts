import type { FileKind } from '../../shared/records/entries.ts';
import type { RowFault } from '../../shared/records/faults.ts';
import type { Role } from '../../shared/records/header-words.ts';
import type { FileReading, NoticeGroup } from '../../shared/records/result.ts';
import type { StockPlan } from '../../shared/records/stock-plan.ts';
import type { EntryData } from '../cultures/entry-words.ts';
import type { FormState } from '../layout/form-state.ts';
import type { Furniture } from '../layout/furniture.ts';

/** What a column is taken to hold: a role, or one of these. */
export type ColumnUse = Role | 'keep' | 'entry' | '';

export type ColumnView = { label: string; filled: string[]; use: ColumnUse };

export type FileView = {
  /** Counted from 1. */
  number: number;
  reading: FileReading;
  columns: ColumnView[];
  /** Rows that somebody mended here. */
  mended: number[];
};

export type FaultyRowView = { line: number; raw: string; reasons: RowFault[] };

export type FaultyGroupView = {
  kind: string;
  file: FileKind;
  fileNumber: number;
  title: string;
  mend: string;
  rows: number;
  leftOut: boolean;
  first: FaultyRowView[];
  /** Codes that are not known, and how many rows have each: they can be corrected for all of them. */
  codes: { written: string; rows: number }[];
};

export type NoticeGroupView = NoticeGroup & { first: { line: number | null; message: string }[] };

export type SampleEntry = { code: string; line: number; by: string | null; data: EntryData };

export type PreviewProps = {
  furniture: Furniture;
  /** The upload's own key, in its addresses. */
  uploadKey: string;
  version: number;
  /** What must still be the same when the button is pressed. */
  seen: string;
  ready: boolean;
  rows: { all: number; accepted: number; faulty: number; leftOut: number; alreadyThere: number };
  made: { cultures: number; entries: number; firstDay: string | null; lastDay: string | null };
  files: FileView[];
  faulty: FaultyGroupView[];
  stock: StockPlan;
  /** How many places name no room. */
  needsRoom: number;
  offered: { species: string[]; enclosures: string[]; rooms: string[] };
  usSystem: boolean;
  notices: NoticeGroupView[];
  sampleCultures: {
    code: string;
    species: string;
    foundedOn: string;
    animals: number;
    from: string;
    enclosure: string | null;
    place: string;
    line: string | null;
  }[];
  sampleEntries: SampleEntry[];
  otherRows: { why: string; file: FileKind; line: number; raw: string }[];
  codes: string[];
  form: FormState;
};
