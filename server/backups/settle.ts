import { inArray, isNull } from 'drizzle-orm';
import { replayErasures } from '../customers/queries-erase.ts';
import { note } from '../plumbing/audit.ts';
import type { Db } from '../plumbing/open-database.ts';
import { mails, oneTimeLinks, sessions } from '../schema/tables.ts';
import type { Erasures } from './erased.ts';
import type { Backup } from './inspect.ts';

/**
 * What was true when the backup was made and may not come back: nobody is signed in, no one-time link opens anything,
 * a mail that waited then may have gone out since, so that only a person sends it again, and whoever was erased since is
 * erased again. Returns how many those were.
 */
export function settle(db: Db, { name, manifest }: Backup, erasures: Erasures, now: number): number {
  return db.transaction((tx) => {
    const ended = tx.delete(sessions).run().changes;
    tx.delete(oneTimeLinks).where(isNull(oneTimeLinks.usedAt)).run();
    const answer = 'It waited when the backup was made that was restored; it may have gone out since.';
    const doubted = tx
      .update(mails)
      .set({ state: 'unsure', answer, settledAt: now })
      .where(inArray(mails.state, ['waiting', 'sending']))
      .run().changes;
    const erasedAgain = replayErasures(tx, erasures, now);
    note(tx, {
      at: now,
      personId: null,
      action: 'restored a backup',
      subject: 'records',
      after: { name, madeAt: manifest.madeAt, signedOut: ended, mailsUnsure: doubted, erasedAgain },
    });
    return erasedAgain;
  });
}
