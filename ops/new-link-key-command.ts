import { renewLinkKey } from '../server/arrivals/queries-links.ts';
import { note } from '../server/plumbing/audit.ts';
import type { Command } from './command.ts';
import { openRecords } from './open-records.ts';

export const newLinkKey: Command = {
  usage: `usage: npm run new-link-key

Makes a new key for the addresses that customers have of their orders. Every address that was given away stops at once,
also those that are printed on cards in boxes that are on their way; the page of each order shows its new one, and mails
that still go out bring it. For when a backup or a copy of the database has come into wrong hands. It is written into the
record of changes. The service may be running. Restoring an older backup brings back the key of then: call it again.

exit codes: 0 done, 1 it could not be done, 2 wrong words
`,
  options: {},
  run(_words, { env, now, output }) {
    const { db, sqlite } = openRecords(undefined, env, now());
    try {
      const open = db.transaction(
        (tx) => {
          const after = { addressesOfOrders: renewLinkKey(tx, now()) };
          const action = 'renewed the key of customers’ addresses by command';
          note(tx, { at: now(), personId: null, action, subject: 'records', after });
          return after.addressesOfOrders;
        },
        { behavior: 'immediate' },
      );
      output.write(
        `There is a new key. ${open} addresses that still opened an order have stopped; each order shows its new one.\n`,
      );
    } finally {
      sqlite.close();
    }
  },
};
