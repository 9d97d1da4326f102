import { resolve } from 'node:path';
import { putBack } from '../server/backups/put-back.ts';
import { readConfig } from '../server/config.ts';
import { type Command, WrongWords } from './command.ts';

export const restore: Command = {
  usage: `usage: npm run restore -- BACKUP [--into DIR] [--force]

Puts a backup back. Everything about it is checked first, on a copy; a bad one changes nothing. The service must not be
running on the folder. Afterwards nobody is signed in, open invitations are withdrawn, and mails that waited when the
backup was made are left for a person to decide.

  --into DIR  folder of the database (else DATA_DIR, else data); it is made when it is not there
  --force     where a database is there already: keep it beside, under a dated name, and put the backup in its place

exit codes: 0 done, 1 not restored and nothing changed, 2 wrong words
`,
  options: { into: { type: 'string' }, force: { type: 'boolean' } },
  run({ values, positionals: [folder] }, { env, output, now }) {
    if (folder === undefined) throw new WrongWords(restore.usage);
    const into = typeof values.into === 'string' ? resolve(values.into) : readConfig(env).dataDir;
    const { backup, kept } = putBack(resolve(folder), into, { now: now(), force: values.force === true });
    output.write(`Restored into ${into}: as it was at ${backup.manifest.madeAt}.\n`);
    if (kept) output.write(`What was there before is in ${kept}.\n`);
    output.write('Everybody signs in anew. Start the service with npm start.\n');
  },
};
