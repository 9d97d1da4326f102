import { closeSync, existsSync, mkdirSync, openSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { databaseFaultOf } from '../server/plumbing/database-faults.ts';
import { noteReadByCommand } from '../server/plumbing/reads.ts';
import { exportText, exportWriters } from '../server/records/export-files.ts';
import { photosTar } from '../server/records/photos-tar.ts';
import type { World } from './import-command.ts';
import { CannotOpen, openRecords } from './open-records.ts';

const OK = 0;
const NO_DATABASE = 1;
const WRONG = 2;

const USAGE = `usage: npm run export -- --dir DIR [options]

Writes everything that is in the records into DIR: one CSV file for each kind of thing, and one JSON file with all of
it, and the photos that were counted on as one tar archive. It is written down among who looked at whose data. cultures.csv and diary.csv can be brought in again by npm
run import. Files that are there already stay.

  --dir DIR       where to; it is made when it is not there
  --replace       write over files of an earlier export
  --data-dir DIR  folder of the database (else DATA_DIR, else data)
  --help          this text

exit codes: 0 done, 1 the database could not be used, 2 the words or the folder are wrong
`;

const options = {
  dir: { type: 'string' },
  replace: { type: 'boolean', default: false },
  'data-dir': { type: 'string' },
  help: { type: 'boolean', default: false },
} as const;

function readWords(args: readonly string[]) {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: false, strict: true }).values;
  } catch (error) {
    return { wrong: (error as Error).message.split('\n')[0] ?? '' };
  }
}

const photosName = 'photos.tar';

/** Photo by photo: all of them at once may be more than the memory holds. */
function writePhotos(file: string, chunks: Iterable<Buffer>) {
  const opened = openSync(file, 'w', 0o600);
  try {
    for (const chunk of chunks) writeFileSync(opened, chunk);
  } finally {
    closeSync(opened);
  }
}

/** Everything as it was at one moment: all files but the photos are read in one transaction. */
function writeAll(folder: string, dataDir: string | undefined, world: World): string[] {
  const { db, sqlite, today } = openRecords(dataDir, world.env, world.now());
  try {
    const now = world.now();
    // By itself, so that nobody who writes has to wait until everything is read.
    noteReadByCommand(db, 'export of everything', now, today);
    const texts = db.transaction((tx) =>
      Object.keys(exportWriters).map((name) => [name, exportText(tx, name, now)]),
    );
    mkdirSync(folder, { recursive: true });
    // Customers and people stand in them: for the owner's eyes only.
    for (const [name, text] of texts) writeFileSync(join(folder, name!), text ?? '', { mode: 0o600 });
    writePhotos(join(folder, photosName), photosTar(db));
    return [...texts.map(([name]) => name!), photosName];
  } finally {
    sqlite.close();
  }
}

/** Writes the export as its words ask; returns the exit code. */
export function exportRecords(args: readonly string[], world: World): number {
  const words = readWords(args);
  const complain = (text: string, code: number) => {
    world.errors.write(`${text}\n`);
    return code;
  };
  if ('wrong' in words) return complain(`${words.wrong}\n\n${USAGE}`, WRONG);
  if (words.help) {
    world.output.write(USAGE);
    return OK;
  }
  if (words.dir === undefined) return complain(`Say where to: --dir DIR\n\n${USAGE}`, WRONG);
  const folder = resolve(words.dir);
  const there = [...Object.keys(exportWriters), photosName].filter((name) => existsSync(join(folder, name)));
  if (there.length > 0 && !words.replace)
    return complain(`${folder} holds ${there[0]} already. Choose another folder, or say --replace.`, WRONG);
  try {
    const names = writeAll(folder, words['data-dir'], world);
    world.output.write(`${names.length} files are in ${folder}: ${names.join(', ')}\n`);
    return OK;
  } catch (error) {
    if (error instanceof CannotOpen) return complain(error.message, NO_DATABASE);
    if (databaseFaultOf(error) === 'busy')
      return complain('Somebody else is writing to the database just now. Try again.', NO_DATABASE);
    throw error;
  }
}
