import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { runHook } from '../server/backups/hook.ts';
import { BadBackup } from '../server/backups/inspect.ts';
import { giveTo, ownerOf } from '../server/backups/owner.ts';
import { takeBackup } from '../server/backups/take.ts';
import { readConfig } from '../server/config.ts';
import { databaseName } from '../shared/backups/manifest.ts';
import type { Command } from './command.ts';
import { CannotOpen } from './open-records.ts';

/** The service may be running: the backup has a connection of its own and takes no lock of writers. */
export const backUp: Command = {
  usage: `usage: npm run backup -- [--shelf DIR] [--data-dir DIR]

Makes a backup of everything, while the service runs or while it does not: a folder with the database and its checksums.
It is restored to a place of its own at once, which proves it; then the oldest go (7 days, 5 weeks, 12 months are kept).

  --shelf DIR     where backups are kept (else BACKUP_DIR, else backups in the folder of the database)
  --data-dir DIR  folder of the database (else DATA_DIR, else data)

exit codes: 0 done, 1 no backup could be made, 2 wrong words
`,
  options: { shelf: { type: 'string' }, 'data-dir': { type: 'string' } },
  async run({ values }, { env, output, now }) {
    const dataDir = values['data-dir'];
    const config = readConfig({ ...env, ...(typeof dataDir === 'string' && { DATA_DIR: dataDir }) });
    const database = join(config.dataDir, databaseName);
    if (!existsSync(database)) throw new CannotOpen(`There is no database in ${config.dataDir}.`);
    const shelf = typeof values.shelf === 'string' ? values.shelf : config.backupDir;
    const owner = ownerOf(existsSync(shelf) ? shelf : config.dataDir);
    const taken = await takeBackup({ database, shelf, reason: 'asked', now: now() });
    giveTo(owner, shelf);
    output.write(`${taken.folder}\n${(taken.bytes / 1e6).toFixed(1)} MB, restored once and whole.\n`);
    if (taken.dropped.length > 0) output.write(`No longer kept: ${taken.dropped.join(', ')}\n`);
    const wrong = config.backupHook ? await runHook(config.backupHook, taken.folder) : null;
    if (wrong) throw new BadBackup(`The backup stands, but it was not sent on: ${wrong}`);
  },
};
