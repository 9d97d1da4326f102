import { eq, min } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { mails } from '../schema/tables.ts';

/** Since when the mail waits that has waited longest; null when none does. */
export const oldestWaiting = (db: Db): number | null =>
  db
    .select({ since: min(mails.madeAt) })
    .from(mails)
    .where(eq(mails.state, 'waiting'))
    .get()?.since ?? null;
