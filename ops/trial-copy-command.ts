import { mkdirSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { restoreBeside } from '../server/backups/restore.ts';
import { readConfig } from '../server/config.ts';
import { makePrivateFolder, sync } from '../server/plumbing/lasting-files.ts';
import { migrate, schemaOf } from '../server/plumbing/migrate.ts';
import { openCopy, openDatabase } from '../server/plumbing/open-database.ts';
import { databaseName } from '../shared/backups/manifest.ts';
import { type Command, WrongWords } from './command.ts';
import { CannotOpen } from './open-records.ts';
import { takePersonsOut } from './trial/take-persons-out.ts';

/** One moment of a database that may be running, brought to this program's schema. */
function copyOfRunning(dataDir: string, file: string, now: number): void {
  const from = join(dataDir, databaseName);
  if (!statSync(from, { throwIfNoEntry: false })) throw new CannotOpen(`There is no database in ${dataDir}.`);
  const source = openCopy(from, { readonly: true });
  try {
    const { schema, newest } = schemaOf(source);
    if (schema > newest) throw new CannotOpen(`The database has schema ${schema}, this program ${newest}.`);
    source.prepare('VACUUM INTO ?').run(file);
  } finally {
    source.close();
  }
  const { sqlite } = openDatabase(file);
  migrate(sqlite, now);
  sqlite.close();
}

function placeFor(to: unknown): string {
  if (typeof to !== 'string' || to === '') throw new WrongWords(trialCopy.usage);
  const folder = resolve(to);
  const there = statSync(folder, { throwIfNoEntry: false });
  if (there && (!there.isDirectory() || readdirSync(folder).length > 0))
    throw new CannotOpen(`${folder} is there already and not empty. Name a new folder.`);
  return folder;
}

export const trialCopy: Command = {
  usage: `usage: npm run trial-copy -- --to FOLDER [options]

Makes a data folder for trying things: the same cultures, orders and sums, but nobody in them. Names, addresses, notes,
reasons, letters, photos, passwords, sign-ins, keys and the record of changes are taken out or replaced by invented
ones; names of species, places, lines, boxes and carriers stay. A service that is started on it says so on every page,
sends no mail whatever the settings say, and keeps its backups to itself. The real service may be running meanwhile.

  --to FOLDER     a new folder
  --from BACKUP   a backup to make it of, in place of the database
  --data-dir DIR  folder of the database (else DATA_DIR, else data)

exit codes: 0 done, 1 it could not be done, 2 wrong words
`,
  options: { to: { type: 'string' }, from: { type: 'string' }, 'data-dir': { type: 'string' } },
  async run({ values: { to, from, 'data-dir': dir }, positionals }, { env, output, now }) {
    if (positionals.length > 0) throw new WrongWords(trialCopy.usage);
    const folder = placeFor(to);
    const { dataDir } = readConfig({ ...env, ...(typeof dir === 'string' && { DATA_DIR: dir }) });
    makePrivateFolder(folder);
    const work = join(folder, 'being-made');
    try {
      if (typeof from === 'string') restoreBeside(resolve(from), work, now());
      else {
        mkdirSync(work, { mode: 0o700 });
        copyOfRunning(dataDir, join(work, databaseName), now());
      }
      await takePersonsOut(join(work, databaseName), join(folder, databaseName));
      sync(folder);
    } finally {
      rmSync(work, { recursive: true, force: true });
    }
    output.write(
      `${folder} holds a copy without persons. To let somebody in, and to start it:\n` +
        `  npm run person -- reset-password person-1@example.org --data-dir ${folder}\n` +
        `  DATA_DIR=${folder} PORT=4790 npm start\n`,
    );
  },
};
