import { resolve } from 'node:path';
import { verifyBackup } from '../server/backups/inspect.ts';
import { type Command, WrongWords } from './command.ts';

export const verify: Command = {
  usage: `usage: npm run verify -- BACKUP

Reads a backup's folder and says whether it is whole: checksums, SQLite's own checks, and the rows of each table.
Nothing is changed.

exit codes: 0 whole, 1 not whole or not for this version, 2 wrong words
`,
  options: {},
  run({ positionals: [folder] }, { output }) {
    if (folder === undefined) throw new WrongWords(verify.usage);
    const { manifest } = verifyBackup(resolve(folder));
    const rows = Object.values(manifest.rows).reduce((sum, one) => sum + one, 0);
    output.write(
      `Whole: made ${manifest.madeAt} by version ${manifest.appVersion}, schema ${manifest.schema}, ${rows} rows.\n`,
    );
  },
};
