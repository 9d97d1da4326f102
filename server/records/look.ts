import { Piscina } from 'piscina';
import { speciesKeys } from '../../shared/records/culture-book.ts';
import { RecordsError, type RecordsErrorKind } from '../../shared/records/limits.ts';
import type { ImportFile } from '../../shared/records/open-file.ts';
import type { ImportReading } from '../../shared/records/result.ts';
import type { StockChoices } from '../../shared/records/stock-choices.ts';
import { planStock, type StockPlan } from '../../shared/records/stock-plan.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { Upload } from './queries-drafts.ts';
import { readKnown, readStock, stockMark, synonymsOf } from './queries-stock.ts';
import { hashesThere } from './queries-there.ts';
import { type ReadInput, readFiles } from './read-files.ts';

/** Files read against the records as they were at `mark`, and what must be made before their cultures can be written. */
export type Look = {
  mark: string;
  reading: ImportReading;
  plan: StockPlan;
  /** Under which all names of one species are one. */
  speciesKey: (name: string) => string;
  /** Nothing is left to be asked or decided. */
  ready: boolean;
};

/** More than this is read in a thread: a year of one person's diary is a tenth of it. */
const inThisThreadBytes = 500_000;

export type LookAt = { files: ImportFile[]; choices: StockChoices; today: string };

/** Reads files and plans what they need. Throws a RecordsError where a file cannot be read at all. */
export async function lookAt(db: Db, { files, choices, today }: LookAt): Promise<Look> {
  const mark = stockMark(db);
  const stock = readStock(db);
  const chosen = (choices.species ?? []).flatMap(({ name, is }) => (is ? [[is, name]] : []));
  const synonyms = [...chosen, ...synonymsOf(stock)];
  const known = readKnown(db, stock);
  const input = { files, today, known, synonyms, there: await hashesThere(db) };
  const bytes = files.reduce((sum, file) => sum + file.bytes.length, 0);
  const reading = bytes > inThisThreadBytes ? await readInThread(input) : readFiles(input);
  const speciesKey = speciesKeys([...synonyms, ...known.map((culture) => culture.speciesNames)]);
  const plan = planStock(reading, stock, choices, speciesKey);
  return { mark, reading, plan, speciesKey, ready: reading.ready && plan.open.length === 0 };
}

type FromThread =
  | { reading: ImportReading }
  | { refused: { kind: RecordsErrorKind; message: string; line: number | null } };

async function readInThread(input: ReadInput): Promise<ImportReading> {
  const pool = new Piscina<ReadInput, FromThread>({
    filename: new URL('./read-files-worker.mjs', import.meta.url).href,
    maxThreads: 1,
  });
  try {
    const answer = await pool.run(input);
    if ('reading' in answer) return answer.reading;
    const { kind, message, line } = answer.refused;
    throw new RecordsError(kind, message, line);
  } finally {
    await pool.close({ force: true });
  }
}

/** The last look at an upload, or what is to become it: most pages of a preview ask for the very same. One only, for it
 * may be large. */
const lastLook = new WeakMap<Db, { key: string; look: Promise<Look> }>();

/** An upload as it is to be read now. Whoever asks meanwhile waits for the same reading. */
export function lookAtUpload(db: Db, upload: Upload, today: string): Promise<Look> {
  const key = JSON.stringify([upload.id, upload.version, today, stockMark(db)]);
  const last = lastLook.get(db);
  if (last?.key === key) return last.look;
  const files = upload.files.map(({ name, bytes, mapping }) => ({
    name,
    bytes,
    mapping: mapping ?? undefined,
  }));
  const look = lookAt(db, { files, choices: upload.choices, today });
  lastLook.set(db, { key, look });
  look.catch(() => forgetLook(db));
  return look;
}

/** What was read is not needed any more. */
export function forgetLook(db: Db): void {
  lastLook.delete(db);
}
