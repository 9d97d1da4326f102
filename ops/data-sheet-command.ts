import { existsSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { exportCustomer } from '../server/customers/export.ts';
import { readCustomer, subjectOf } from '../server/customers/queries.ts';
import { writePrivate } from '../server/plumbing/lasting-files.ts';
import { noteReadByCommand } from '../server/plumbing/reads.ts';
import { type Command, WrongWords } from './command.ts';
import { CannotOpen, openRecords } from './open-records.ts';

function placeFor(to: unknown, replace: boolean): string {
  if (typeof to !== 'string' || to === '') throw new WrongWords(dataSheet.usage);
  const file = resolve(to);
  if (!statSync(dirname(file), { throwIfNoEntry: false })?.isDirectory())
    throw new CannotOpen(`There is no folder ${dirname(file)}.`);
  if (existsSync(file) && !(replace && statSync(file).isFile()))
    throw new CannotOpen(`${file} is there already. Choose another name, or say --replace.`);
  return file;
}

/** Also while the service runs: it takes the lock of writers for one line among the reads. */
export const dataSheet: Command = {
  usage: `usage: npm run data-sheet -- NUMBER --to FILE.zip [options]

Writes all that is kept of one customer into FILE.zip, as their page does: customer.json with everything, a CSV file for
each kind of thing, and the photos they sent. NUMBER is the customer's, as the address of their page ends. It is written
down among who looked at whose data; where that cannot be written, nothing is given out.

  --to FILE.zip   where to
  --replace       write over a file that is there
  --data-dir DIR  folder of the database (else DATA_DIR, else data)

exit codes: 0 done, 1 it could not be done, 2 wrong words
`,
  options: { to: { type: 'string' }, replace: { type: 'boolean' }, 'data-dir': { type: 'string' } },
  run({ values, positionals: [number = '', ...more] }, { env, output, now }) {
    if (!/^[1-9]\d{0,14}$/.test(number) || more.length > 0) throw new WrongWords(dataSheet.usage);
    const file = placeFor(values.to, values.replace === true);
    const dataDir = values['data-dir'];
    const at = now();
    const { db, sqlite, today } = openRecords(typeof dataDir === 'string' ? dataDir : undefined, env, at);
    try {
      const id = Number(number);
      if (!readCustomer(db, id)) throw new CannotOpen(`There is no customer ${number}.`);
      noteReadByCommand(db, subjectOf(id), at, today);
      const archive = db.transaction((tx) => exportCustomer(tx, id, at));
      writePrivate(file, archive);
      output.write(`${file} holds all that is kept of customer ${number}.\n`);
    } finally {
      sqlite.close();
    }
  },
};
