import { z } from 'zod';
import { faultsOf, inWords } from '../faults.ts';
import { delimiters } from './delimiter.ts';
import { encodings } from './encoding.ts';
import { type FaultKind, faultKinds } from './faults.ts';
import { culturesRoles, diaryRoles } from './header-words.ts';
import { limits, RecordsError } from './limits.ts';
import { meanings } from './meanings.ts';

const label = z.string().max(120);
const word = z.string().max(200);
const faultKind = z.enum(Object.keys(faultKinds) as [FaultKind, ...FaultKind[]]);
const mend = z.strictObject({
  line: z.int().min(1),
  was: z.string().max(limits.cellChars * 4),
  cells: z.array(z.string().max(limits.cellChars)).max(limits.columns),
});

/** What both kinds of file share. Every setting may be left out: then it is guessed from the file. */
const ofAnyFile = {
  version: z.literal(1),
  encoding: z.enum(encodings).optional(),
  delimiter: z.enum(delimiters).optional(),
  /** The line of the header; null where the file has none. */
  headerLine: z.int().min(1).max(limits.rows).nullable().optional(),
  /** null: decided by the evidence in the columns, and asked where there is none. */
  dateOrder: z.enum(['dmy', 'mdy']).nullable().optional(),
  /** Set only where the date columns hold the day numbers of a spreadsheet. */
  serialDates: z.enum(['1900', '1904']).nullable().optional(),
  decimalMark: z.enum(['.', ',']).optional(),
  /** Columns without a role whose cells are kept at the end of the note; others are left out. */
  keepInNote: z.array(label).max(limits.columns).optional(),
  /** Codes that are written wrongly throughout, and the codes they mean. */
  codes: z
    .array(z.strictObject({ written: word, means: word }))
    .max(2000)
    .optional(),
  /** How many animals the largest colony may hold, where the records know no bound. */
  largestColony: z.int().min(1).max(10_000_000).optional(),
  /** Kinds of faulty rows that are left out knowingly. */
  leaveOut: z.array(faultKind).max(100).optional(),
  mends: z.array(mend).max(5000).optional(),
};

/** How a file of cultures is read. */
export const culturesMapping = z.strictObject({
  ...ofAnyFile,
  kind: z.literal('cultures'),
  columns: z.partialRecord(z.enum(culturesRoles), label.nullable()).optional(),
  origins: z
    .array(z.strictObject({ word, means: z.enum(['wild', 'bought', 'unknown']).nullable() }))
    .max(2000)
    .optional(),
  statuses: z
    .array(z.strictObject({ word, means: z.enum(['active', 'quarantine', 'retired']).nullable() }))
    .max(200)
    .optional(),
  /** The founding animals of the rows that tell none; null: such rows are faulty. */
  foundingAnimals: z.int().min(1).max(100_000).nullable().optional(),
});

/** How a diary is read. */
export const diaryMapping = z.strictObject({
  ...ofAnyFile,
  kind: z.literal('diary'),
  columns: z.partialRecord(z.enum(diaryRoles), label.nullable()).optional(),
  /** Columns that each stand for something done: a cell under Water (ml) is a watering. */
  entryColumns: z.array(label).max(limits.columns).optional(),
  words: z
    .array(z.strictObject({ word, means: z.enum(meanings).nullable() }))
    .max(2000)
    .optional(),
  /** The one culture, or the one meaning, of every row, for files without such a column. */
  codeForAll: word.nullable().optional(),
  meaningForAll: z.enum(meanings).nullable().optional(),
  /** Rows of one file that say exactly the same. */
  sameRows: z.enum(['keep all', 'keep one']).optional(),
  /** The share lost, in percent, in die-offs that tell none; null: such rows are faulty. */
  lostPercent: z.number().gt(0).max(100).nullable().optional(),
  /** The water of a watering that tells no amount; null: such rows are faulty. */
  waterMl: z.number().gt(0).max(10_000).nullable().optional(),
});

export const mapping = z.discriminatedUnion('kind', [culturesMapping, diaryMapping], {
  error: (issue) => (issue.code === 'invalid_union' ? 'must be cultures or diary' : undefined),
});

/** A mapping as a person or a file gives it: what is left out is guessed. */
export type Mapping = z.output<typeof mapping>;
type Settled<M> = { [K in keyof M]-?: Exclude<M[K], undefined> };
export type CulturesMapping = z.output<typeof culturesMapping>;
export type DiaryMapping = z.output<typeof diaryMapping>;
/** A mapping with nothing left open: what was guessed stands in it, so that it can be shown and saved. */
export type SettledCulturesMapping = Settled<CulturesMapping>;
export type SettledDiaryMapping = Settled<DiaryMapping>;
export type SettledMapping = SettledCulturesMapping | SettledDiaryMapping;

/**
 * A mapping from plain JSON. Throws a RecordsError that names every fault by its path.
 *
 * @example parseMapping({ version: 1, kind: 'diary', words: [{ word: 'count', means: 'full count' }] })
 */
export function parseMapping(json: unknown): Mapping {
  const parsed = mapping.safeParse(json, { error: inWords });
  if (parsed.success) return parsed.data;
  const faults = faultsOf(parsed.error).map((fault) => `${fault.path}: ${fault.message}`);
  throw new RecordsError('mapping-wrong', `This mapping cannot be used. ${faults.join('; ')}`);
}
