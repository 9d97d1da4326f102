import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { readConfig } from '../server/config.ts';
import { holdFolder } from '../server/plumbing/one-instance.ts';
import { openDatabase } from '../server/plumbing/open-database.ts';
import { databaseName } from '../shared/backups/manifest.ts';
import type { Command } from './command.ts';
import { CannotOpen } from './open-records.ts';

export const vacuum: Command = {
  usage: `usage: npm run vacuum -- [--data-dir DIR]

Writes the database anew without what was deleted: smaller, and nothing of what was erased is left in it. It needs as
much room again as the database has, and the service must be stopped meanwhile.

exit codes: 0 done, 1 it could not be done, 2 wrong words
`,
  options: { 'data-dir': { type: 'string' } },
  run({ values }, { env, output }) {
    const dir = values['data-dir'];
    const { dataDir } = readConfig({ ...env, ...(typeof dir === 'string' && { DATA_DIR: dir }) });
    const file = join(dataDir, databaseName);
    if (!existsSync(file)) throw new CannotOpen(`There is no database in ${dataDir}.`);
    const held = holdFolder(dataDir, 'a vacuum');
    const before = statSync(file).size;
    const { sqlite } = openDatabase(file);
    try {
      sqlite.exec('VACUUM');
      sqlite.pragma('wal_checkpoint(TRUNCATE)');
      sqlite.exec('PRAGMA optimize');
    } finally {
      sqlite.close();
      held.release();
    }
    const megabytes = (bytes: number) => (bytes / 1e6).toFixed(1);
    output.write(`${megabytes(before)} MB before, ${megabytes(statSync(file).size)} MB now.\n`);
  },
};
