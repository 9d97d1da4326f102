import { and, eq } from 'drizzle-orm';
import { formKeys } from '../schema/tables.ts';
import { Refusal } from './errors.ts';
import type { Db } from './open-database.ts';

export type FormKey = { key: string | undefined; personId: string; path: string; now: number };

/** See Call.once. Without a key a repeated submit could not be told from a second one, so it is refused. */
export function once<T>(db: Db, form: FormKey, work: (tx: Db) => T): T {
  const { key, personId, path, now } = form;
  if (!key || !/^[\w.-]{16,120}$/.test(key)) {
    throw new Refusal(
      400,
      'This form is not complete',
      'Please go back, reload the page and send the form again.',
    );
  }
  return db.transaction(
    (tx) => {
      const before = tx
        .select()
        .from(formKeys)
        .where(and(eq(formKeys.personId, personId), eq(formKeys.path, path), eq(formKeys.formKey, key)))
        .get();
      if (before) return JSON.parse(before.outcome) as T;
      const outcome = work(tx);
      tx.insert(formKeys)
        .values({ formKey: key, personId, path, outcome: JSON.stringify(outcome ?? null), madeAt: now })
        .run();
      return outcome;
    },
    { behavior: 'immediate' },
  );
}
