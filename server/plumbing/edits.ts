import { createHash } from 'node:crypto';
import { desc, eq } from 'drizzle-orm';
import type { Difference } from '../../views/layout/both-versions.tsx';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatMoment } from '../../views/layout/format.ts';
import { audit, people } from '../schema/tables.ts';
import type { Business } from './call.ts';
import type { Db } from './open-database.ts';

/**
 * A mark of what a form was filled from. It travels in the form; when what is stored bears another mark by the time
 * the form is saved, somebody else has saved meanwhile.
 */
export function fingerprintOf(stored: unknown): string {
  return createHash('sha256').update(JSON.stringify(stored)).digest('hex').slice(0, 24);
}

/**
 * What came of a form inside its transaction. What is held against the stored rows is held there, so that the same
 * form sent twice is answered the same way twice; the page that comes back bears a new key.
 */
export type Outcome = { errors: Record<string, string>; overtaken: boolean };

export const saved: Outcome = { errors: {}, overtaken: false };
export const overtaken: Outcome = { errors: {}, overtaken: true };

export const isWrong = (outcome: { errors: Record<string, string> }) =>
  Object.keys(outcome.errors).length > 0;

/** Where what is stored now (as the form would show it) and what was typed are not the same, by the fields' names. */
export function differencesBetween(
  stored: FormState['values'],
  typed: FormState['values'],
  words: Record<string, string>,
): Difference[] {
  const text = (value: unknown) => (Array.isArray(value) ? value.join(', ') : String(value ?? '')).trim();
  return Object.entries(words)
    .filter(([name]) => text(stored[name]) !== text(typed[name]))
    .map(([name, field]) => ({ field, stored: text(stored[name]), yours: text(typed[name]) }));
}

/** Who changed a thing last, and when, in words. */
export function lastSaved(db: Db, subject: string, business: Business) {
  const last = db
    .select({ at: audit.at, name: people.name })
    .from(audit)
    .leftJoin(people, eq(people.id, audit.personId))
    .where(eq(audit.subject, subject))
    .orderBy(desc(audit.id))
    .limit(1)
    .get();
  return {
    savedBy: last?.name ?? null,
    savedWhen: last ? `on ${formatMoment(last.at, business.timeZone, business.locale)}` : 'meanwhile',
  };
}
