import { endFeedOf } from '../server/calendar/queries.ts';
import { readConfig } from '../server/config.ts';
import { linkAddress } from '../server/people/links.ts';
import { changePerson, noPassword, otherActiveOwners, personNamed } from '../server/people/queries.ts';
import { addLink, withdrawLinksMadeBy, withdrawResets } from '../server/people/queries-links.ts';
import { forgetDevicesOf } from '../server/people/queries-tries.ts';
import { note } from '../server/plumbing/audit.ts';
import type { Db } from '../server/plumbing/open-database.ts';
import { endSessionsOf, freshToken } from '../server/plumbing/sessions.ts';
import { people } from '../server/schema/tables.ts';
import { type Command, WrongWords } from './command.ts';
import { CannotOpen, openRecords } from './open-records.ts';

function theOne(tx: Db, signInName: string | undefined) {
  if (signInName === undefined) throw new WrongWords(person.usage);
  const found = personNamed(tx, signInName);
  if (!found) throw new CannotOpen(`Nobody signs in as ${signInName}.`);
  return found;
}

/** What is done to a person, in one transaction, and what is said afterwards; a link is shown once and kept nowhere. */
type Act = (
  tx: Db,
  name: string | undefined,
  o: { now: number; token: string },
) => { said: string; about: string; purpose?: 'invitation' | 'reset' };

const acts: Record<string, Act> = {
  'create-owner': (tx, name, { now, token }) => {
    if (!name) throw new WrongWords(person.usage);
    addLink(tx, { token, purpose: 'invitation', role: 'owner', name, now });
    return {
      said: `${name} becomes an owner with this link, which opens once within seven days:`,
      about: 'people',
      purpose: 'invitation',
    };
  },
  'reset-password': (tx, name, { now, token }) => {
    const { id, active } = theOne(tx, name);
    if (!active) throw new CannotOpen(`${name} is not active.`);
    withdrawResets(tx, id);
    changePerson(tx, id, { passwordHash: noPassword });
    endSessionsOf(tx, id);
    forgetDevicesOf(tx, id);
    endFeedOf(tx, id, now);
    addLink(tx, { token, purpose: 'reset', personId: id, now });
    return {
      said: `The old password stopped. ${name} chooses a new one with this link, within a day:`,
      about: `person ${id}`,
      purpose: 'reset',
    };
  },
  'end-sessions': (tx, name) => {
    const all = name === undefined ? tx.select().from(people).all() : [theOne(tx, name)];
    const ended = all.reduce((sum, { id }) => sum + endSessionsOf(tx, id), 0);
    return {
      said: `${ended} ${ended === 1 ? 'session has' : 'sessions have'} ended.`,
      about: name ? `person ${all[0]!.id}` : 'people',
    };
  },
  deactivate: (tx, name, { now }) => {
    const { id, role } = theOne(tx, name);
    if (role === 'owner' && otherActiveOwners(tx, id) === 0)
      throw new CannotOpen(`${name} is the only active owner, and somebody must be.`);
    changePerson(tx, id, { active: false });
    endSessionsOf(tx, id);
    forgetDevicesOf(tx, id);
    endFeedOf(tx, id, now);
    withdrawResets(tx, id);
    withdrawLinksMadeBy(tx, id);
    return { said: `${name} can no longer sign in. What they wrote stays.`, about: `person ${id}` };
  },
};

/** Also while the service runs: each takes the lock of writers for one short transaction. */
export const person: Command = {
  usage: `usage: npm run person -- create-owner NAME | reset-password SIGN-IN-NAME | end-sessions [SIGN-IN-NAME] | deactivate SIGN-IN-NAME

For whoever runs the machine, when nobody can sign in. The service may be running. Passwords are never typed here: a link
is printed that opens once. What is done stands in the record of changes.

  --data-dir DIR  folder of the database (else DATA_DIR, else data)

exit codes: 0 done, 1 it could not be done, 2 wrong words
`,
  options: { 'data-dir': { type: 'string' } },
  run({ values, positionals: [what = '', name] }, { env, output, now }) {
    const act = Object.hasOwn(acts, what) ? acts[what] : undefined;
    if (!act) throw new WrongWords(person.usage);
    const dataDir = values['data-dir'];
    const config = readConfig(env);
    const { db, sqlite } = openRecords(typeof dataDir === 'string' ? dataDir : undefined, env, now());
    const token = freshToken();
    try {
      const { said, purpose } = db.transaction(
        (tx) => {
          const done = act(tx, name, { now: now(), token });
          note(tx, { at: now(), personId: null, action: `command: ${what}`, subject: done.about });
          return done;
        },
        { behavior: 'immediate' },
      );
      output.write(`${said}\n`);
      if (purpose) output.write(`  ${linkAddress(config, purpose, token)}\n`);
    } finally {
      sqlite.close();
    }
  },
};
