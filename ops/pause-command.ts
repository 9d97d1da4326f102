import { statSync } from 'node:fs';
import { readConfig } from '../server/config.ts';
import { beginPause, endPause, longestWords, readPause } from '../server/plumbing/pause.ts';
import { type Command, WrongWords } from './command.ts';
import { CannotOpen } from './open-records.ts';

/** The service looks for itself, so that it need not be asked, nor run. */
export const pause: Command = {
  usage: `usage: npm run pause -- on [WORDS] | off | (nothing, to be told)

While it is on, the records are only read: for moving house, an upgrade, a backup that nothing must come after. Pages open
as before and say so, in WORDS too (until when, for example); every form is refused and can be sent again; nobody can sign
in; mails and other work wait. The service may be running, and sees it within a second; a start while it is on keeps it.
/readyz says "writing":"paused" when what was under way is done.

  --data-dir DIR  folder of the database (else DATA_DIR, else data)

exit codes: 0 done, 1 it could not be done, 2 wrong words
`,
  options: { 'data-dir': { type: 'string' } },
  run({ values, positionals: [what = '', ...words] }, { env, output, now }) {
    const dir = values['data-dir'];
    const { dataDir } = readConfig({ ...env, ...(typeof dir === 'string' && { DATA_DIR: dir }) });
    if (!statSync(dataDir, { throwIfNoEntry: false })?.isDirectory())
      throw new CannotOpen(`There is no folder ${dataDir}.`);
    const said = words.join(' ').trim();
    if (!['', 'on', 'off'].includes(what) || (what !== 'on' && said !== ''))
      throw new WrongWords(pause.usage);
    if (said.length > longestWords) throw new WrongWords(`At most ${longestWords} characters of words.`);
    if (what === 'on') beginPause(dataDir, { since: now(), words: said });
    if (what === 'off') endPause(dataDir);
    const there = readPause(dataDir);
    output.write(
      there
        ? `Paused: the records are only read. ${there.words}`.trim()
        : 'Not paused: everything can be written.',
    );
    output.write('\n');
  },
};
