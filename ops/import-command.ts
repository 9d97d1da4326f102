import { readFileSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Writable } from 'node:stream';
import { parseArgs } from 'node:util';
import { personNamed } from '../server/people/queries.ts';
import type { Db, Opened } from '../server/plumbing/open-database.ts';
import { type Look, lookAt } from '../server/records/look.ts';
import { type BroughtIn, ReadAgain, writeImport } from '../server/records/write-import.ts';
import { type FaultKind, faultKinds } from '../shared/records/faults.ts';
import { limits, RecordsError } from '../shared/records/limits.ts';
import type { Mapping } from '../shared/records/mapping.ts';
import { type ImportFile, openFile } from '../shared/records/open-file.ts';
import { notBroughtInCsv } from '../shared/records/report.ts';
import { readSavedMapping, type SavedMapping, writeSavedMapping } from '../shared/records/saved-mapping.ts';
import { kindNames, openWords, summaryWords, USAGE } from './import-words.ts';
import { CannotOpen, openRecords } from './open-records.ts';

const OK = 0;
const NO_DATABASE = 1;
const OPEN = 2;

/** What a command needs of the world; the process's own, or a test's. */
export interface World {
  output: Writable;
  errors: Writable;
  env: NodeJS.ProcessEnv;
  now: () => number;
}

/** Something about the words or the files of the call is wrong. */
class Wrong extends Error {}

const options = {
  mapping: { type: 'string' },
  'leave-out': { type: 'string', multiple: true, default: [] as string[] },
  'dry-run': { type: 'boolean', default: false },
  'not-brought-in': { type: 'string' },
  'write-mapping': { type: 'string' },
  as: { type: 'string' },
  'data-dir': { type: 'string' },
  help: { type: 'boolean', default: false },
} as const;

function readWords(words: readonly string[]) {
  try {
    return parseArgs({ args: [...words], options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new Wrong(`${(error as Error).message.split('\n')[0]}\n\n${USAGE}`);
  }
}
type Words = ReturnType<typeof readWords>;

function fileBytes(path: string): Uint8Array {
  try {
    return new Uint8Array(readFileSync(path));
  } catch (error) {
    throw new Wrong(`${path} cannot be read (${(error as NodeJS.ErrnoException).code ?? 'no such file'}).`);
  }
}

function leaveOutKinds(names: readonly string[]): FaultKind[] {
  const unknown = names.find((name) => !Object.hasOwn(faultKinds, name));
  if (unknown !== undefined)
    throw new Wrong(`--leave-out ${unknown}: there is no such kind. There are: ${kindNames.join(', ')}`);
  return names as FaultKind[];
}

/** A file with what is known of it: from the saved mapping, and which faults are left out knowingly. */
function importFile(path: string, saved: SavedMapping, leaveOut: FaultKind[]): ImportFile {
  const file = { name: basename(path).slice(0, 200), bytes: fileBytes(path) };
  if (file.bytes.length > limits.bytes)
    throw new Wrong(`${path} is larger than 10 MB. Split it, by year for example.`);
  const { kind } = openFile(file);
  const told: Mapping = saved[kind] ?? { version: 1, kind };
  return { ...file, mapping: { ...told, leaveOut: [...new Set([...(told.leaveOut ?? []), ...leaveOut])] } };
}

async function look(db: Db, today: string, { values, positionals }: Words): Promise<Look> {
  if (positionals.length === 0 || positionals.length > 2)
    throw new Wrong(`Name one or two files.\n\n${USAGE}`);
  const leaveOut = leaveOutKinds(values['leave-out']);
  const text =
    values.mapping === undefined ? '{"version":1}' : Buffer.from(fileBytes(values.mapping)).toString('utf8');
  const saved = readSavedMapping(text);
  const files = positionals.map((path) => importFile(path, saved, leaveOut));
  return lookAt(db, { files, choices: saved.stock ?? {}, today });
}

function writeFiles({ reading }: Look, { values }: Words): void {
  const { 'not-brought-in': report, 'write-mapping': mapping } = values;
  if (mapping !== undefined) {
    const mappings = Object.fromEntries(reading.files.map((file) => [file.kind, file.mapping]));
    writeFileSync(mapping, writeSavedMapping(mappings));
  }
  if (report === undefined) return;
  // Two files have columns of their own: each gets a list of its own.
  const named = (kind: string) =>
    reading.files.length === 1 ? report : report.replace(/(\.\w+)?$/, `-${kind}$1`);
  for (const { kind } of reading.files)
    writeFileSync(named(kind), `\uFEFF${[...notBroughtInCsv(reading, kind)].join('')}`);
}

const isBusy = (error: unknown) => (error as { code?: string }).code?.startsWith('SQLITE_BUSY') ?? false;
const wait = (ms: number) => new Promise((done) => setTimeout(done, ms));
const tries = 20;

/** One short write transaction; while somebody else writes it waits its turn, for some seconds at most. */
async function write(
  { db }: Opened,
  looked: Look,
  by: { personId: string | null; now: number },
): Promise<BroughtIn> {
  for (let n = 1; ; n += 1) {
    try {
      return db.transaction((tx) => writeImport(tx, looked, by), { behavior: 'immediate' });
    } catch (error) {
      if (error instanceof ReadAgain)
        throw new CannotOpen('The records were changed meanwhile. Nothing was written: run it again.');
      if (!isBusy(error)) throw error;
      if (n === tries)
        throw new CannotOpen('Somebody else is writing to the database. Nothing was written: try again.');
      await wait(200);
    }
  }
}

function personOf(db: Db, name: string | undefined): string | null {
  if (name === undefined) return null;
  const person = personNamed(db, name);
  if (!person) throw new Wrong(`--as ${name}: nobody signs in with this name.`);
  return person.id;
}

async function run(words: Words, world: World): Promise<number> {
  const { values } = words;
  const say = (lines: readonly string[]) => world.output.write(lines.map((line) => `${line}\n`).join(''));
  const opened = openRecords(values['data-dir'], world.env, world.now());
  try {
    const personId = personOf(opened.db, values.as);
    const looked = await look(opened.db, opened.today, words);
    say(summaryWords(looked));
    writeFiles(looked, words);
    if (!looked.ready) {
      world.errors.write(
        `Nothing was written. Open:\n${openWords(looked)
          .map((line) => `  ${line}\n`)
          .join('')}`,
      );
      return OPEN;
    }
    const fresh = looked.reading.files.some((file) => file.counts.accepted > 0);
    if (values['dry-run'] || !fresh) {
      say([
        fresh
          ? 'Nothing was written: this was a dry run.'
          : 'Nothing was written: all of it is there already.',
      ]);
      return OK;
    }
    const done = await write(opened, looked, { personId, now: world.now() });
    say([
      `${done.rows} rows came in, as import ${done.importId}.`,
      'The service works their estimates out within seconds, or when it is started.',
    ]);
    return OK;
  } finally {
    opened.sqlite.close();
  }
}

/**
 * Brings records from files, as its words ask.
 *
 * @returns the exit code: 0 done, 1 the database could not be used, 2 something is open or wrong
 */
export async function importRecords(args: readonly string[], world: World): Promise<number> {
  try {
    const words = readWords(args);
    if (!words.values.help) return await run(words, world);
    world.output.write(USAGE);
    return OK;
  } catch (error) {
    const wrong = error instanceof Wrong || error instanceof RecordsError;
    if (!wrong && !(error instanceof CannotOpen)) throw error;
    world.errors.write(`${error.message}\n`);
    return wrong ? OPEN : NO_DATABASE;
  }
}
