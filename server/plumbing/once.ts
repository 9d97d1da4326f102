import { and, eq, lt } from 'drizzle-orm';
import { formKeys } from '../schema/tables.ts';
import { Refusal } from './errors.ts';
import type { Db } from './open-database.ts';

export type FormKey = { key: string | undefined; personId: string; path: string; now: number };

export const isFormKey = (key: unknown): key is string =>
  typeof key === 'string' && /^[\w.-]{16,120}$/.test(key);

/** Without a key a repeated submit could not be told from a second one, so it is refused. */
function checkedKey(key: string | undefined): string {
  if (isFormKey(key)) return key;
  throw new Refusal(
    400,
    'This form is not complete',
    'Please go back, reload the page and send the form again.',
  );
}

function keptOutcome(db: Db, form: FormKey): string | undefined {
  const formKey = checkedKey(form.key);
  return db
    .select({ outcome: formKeys.outcome })
    .from(formKeys)
    .where(
      and(eq(formKeys.personId, form.personId), eq(formKeys.path, form.path), eq(formKeys.formKey, formKey)),
    )
    .get()?.outcome;
}

/** See Call.outcome. */
export function outcomeOf<T>(db: Db, form: FormKey): T | null {
  const kept = keptOutcome(db, form);
  return kept === undefined ? null : (JSON.parse(kept) as T);
}

/** See Call.once. */
export function once<T>(db: Db, form: FormKey, work: (tx: Db) => T): T {
  const { personId, path, now } = form;
  const formKey = checkedKey(form.key);
  return db.transaction(
    (tx) => {
      const kept = keptOutcome(tx, form);
      if (kept !== undefined) return JSON.parse(kept) as T;
      const outcome = work(tx);
      tx.insert(formKeys)
        .values({ formKey, personId, path, outcome: JSON.stringify(outcome ?? null), madeAt: now })
        .run();
      return outcome;
    },
    { behavior: 'immediate' },
  );
}

/** Keys older than this can no longer be a repeated submit; returns how many went. */
export function forgetFormKeys(db: Db, before: number): number {
  return db.delete(formKeys).where(lt(formKeys.madeAt, before)).run().changes;
}
