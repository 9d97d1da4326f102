import { personNamed } from '../server/people/queries.ts';
import { removeFactor } from '../server/people/queries-second-factor.ts';
import { note } from '../server/plumbing/audit.ts';
import { endSessionsOf } from '../server/plumbing/sessions.ts';
import { tidySignInName } from '../shared/people/sign-in-name.ts';
import { type Command, WrongWords } from './command.ts';
import { CannotOpen, openRecords } from './open-records.ts';

export const withoutCode: Command = {
  usage: `usage: npm run without-code -- SIGN-IN-NAME

Takes the code at sign-in off an account whose phone is lost, and ends its sessions. The password stays as it is. It is
written into the record of changes. The service may be running.

exit codes: 0 done, 1 it could not be done, 2 wrong words
`,
  options: {},
  run({ positionals: [name] }, { env, now, output }) {
    if (name === undefined) throw new WrongWords(withoutCode.usage);
    const { db, sqlite } = openRecords(undefined, env, now());
    try {
      const person = personNamed(db, tidySignInName(name));
      if (!person) throw new CannotOpen(`Nobody signs in as ${name}.`);
      const had = db.transaction(
        (tx) => {
          if (!removeFactor(tx, person.id)) return false;
          endSessionsOf(tx, person.id);
          const subject = `person ${person.id}`;
          note(tx, { at: now(), personId: null, action: 'removed the code at sign-in by command', subject });
          return true;
        },
        { behavior: 'immediate' },
      );
      output.write(
        had ? `${name} signs in with the password alone now.\n` : `${name} has no code at sign-in.\n`,
      );
    } finally {
      sqlite.close();
    }
  },
};
