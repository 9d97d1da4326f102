import { existsSync, statfsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { faultOf } from '../server/backups/inspect.ts';
import { listBackups } from '../server/backups/shelf.ts';
import { type Config, idleSettings, readConfig } from '../server/config.ts';
import { BadFolder, checkDataFolder } from '../server/plumbing/data-folder.ts';
import { schemaOf } from '../server/plumbing/migrate.ts';
import { openCopy } from '../server/plumbing/open-database.ts';
import { readPause } from '../server/plumbing/pause.ts';
import { isFromTheFuture, isProofLate } from '../shared/backups/due.ts';
import { databaseName } from '../shared/backups/manifest.ts';
import type { Command } from './command.ts';
import { CannotOpen } from './open-records.ts';

type Finding = { isFault: boolean; text: string };
const fine = (text: string): Finding => ({ isFault: false, text });
const fault = (text: string): Finding => ({ isFault: true, text });

function folderFinding(config: Config): Finding {
  try {
    checkDataFolder(config);
    return fine(`The data folder is ${config.dataDir}.`);
  } catch (error) {
    if (error instanceof BadFolder) return fault(error.message);
    throw error;
  }
}

function databaseFindings(file: string): Finding[] {
  if (!existsSync(file)) return [fine('There is no database yet; the first start makes it.')];
  try {
    const sqlite = openCopy(file, { readonly: true });
    try {
      const { schema, newest } = schemaOf(sqlite);
      const found = faultOf(sqlite);
      return [
        schema === newest
          ? fine(`The schema is ${schema}, as this program wants it.`)
          : schema < newest
            ? fine(`The schema is ${schema}; the next start upgrades it to ${newest}, after a backup.`)
            : fault(`The schema is ${schema}, this program knows only up to ${newest}.`),
        found
          ? fault(`The database does not hold together: ${found}.`)
          : fine('The database holds together.'),
      ];
    } finally {
      sqlite.close();
    }
  } catch (error) {
    return [fault(`The database cannot be read: ${(error as Error).message}.`)];
  }
}

function backupFinding(config: Config, now: number): Finding {
  const newest = listBackups(config.backupDir).find(
    ({ madeAt, provenAt }) => provenAt !== null && !isFromTheFuture(madeAt, now),
  );
  if (!newest) return fault(`There is no proven backup in ${config.backupDir}.`);
  const words = `The newest proven backup is ${newest.name}.`;
  return isProofLate(newest.provenAt, now) ? fault(`${words} That is too long ago.`) : fine(words);
}

function pauseFinding({ dataDir }: Config): Finding[] {
  const pause = readPause(dataDir);
  return pause
    ? [fault(`The records are only read (npm run pause -- off ends it). ${pause.words}`.trim())]
    : [];
}

function roomFinding({ dataDir, minFreeBytes }: Config): Finding {
  const { bavail, bsize } = statfsSync(dataDir);
  const words = `${Math.floor((bavail * bsize) / 1e6)} MB are free, ${minFreeBytes / 1e6} MB must be.`;
  return bavail * bsize < minFreeBytes ? fault(words) : fine(words);
}

export const doctor: Command = {
  usage: `usage: npm run doctor

Looks at the settings of the environment, the data folder, the database and the backups, and says what is wrong.
Nothing is changed; the service may be running.

exit codes: 0 all is well, 1 something is wrong, 2 wrong words
`,
  options: {},
  run(_words, { env, output, now }) {
    const config = readConfig(env);
    const found = [fine('The settings are right.'), ...idleSettings(env).map(fault), folderFinding(config)];
    const file = join(config.dataDir, databaseName);
    if (statSync(config.dataDir, { throwIfNoEntry: false })?.isDirectory())
      found.push(
        ...pauseFinding(config),
        ...databaseFindings(file),
        backupFinding(config, now()),
        roomFinding(config),
      );
    for (const { isFault, text } of found) output.write(`${isFault ? 'WRONG' : 'ok   '}  ${text}\n`);
    const wrong = found.filter(({ isFault }) => isFault).length;
    if (wrong > 0) throw new CannotOpen(`${wrong} ${wrong === 1 ? 'thing is' : 'things are'} wrong.`);
  },
};
