import { createHash } from 'node:crypto';
import { and, desc, eq } from 'drizzle-orm';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatMoment } from '../../views/layout/format.ts';
import { audit, people } from '../schema/tables.ts';
import type { Business, StaffCall } from './call.ts';
import { typed } from './forms.ts';
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

/** A form filled with what is kept. It bears the mark of that, which the page sends back in its FilledFrom. */
export const filledWith = (kept: FormState['values']): FormState => ({
  values: { ...kept, version: fingerprintOf(kept) },
  errors: {},
});

/** Whether somebody saved since the form was filled; asked inside the transaction that writes. */
export const isOvertaken = ({ body }: Pick<StaffCall, 'body'>, kept: FormState['values']) =>
  body.version !== fingerprintOf(kept);

/**
 * The form as it was typed, beside what somebody else saved meanwhile. It bears the mark of that: whoever saves it
 * again has seen it. `about` is how the record of changes calls it, with the action where that says more.
 */
export function tooLate(
  call: StaffCall,
  kept: FormState['values'],
  about: { subject: string; action?: string },
  mark = fingerprintOf(kept),
): FormState {
  const { values } = typed(call.body);
  return {
    values: { ...values, version: mark },
    errors: {},
    meanwhile: { ...lastSaved(call.db, about.subject, call.business, about.action), stored: kept },
  };
}

export const isWrong = (outcome: { errors: Record<string, string> }) =>
  Object.keys(outcome.errors).length > 0;

/** Who changed a thing last, and when, in words. */
function lastSaved(db: Db, subject: string, business: Business, action?: string) {
  const last = db
    .select({ at: audit.at, name: people.name })
    .from(audit)
    .leftJoin(people, eq(people.id, audit.personId))
    .where(and(eq(audit.subject, subject), action === undefined ? undefined : eq(audit.action, action)))
    .orderBy(desc(audit.id))
    .limit(1)
    .get();
  return {
    savedBy: last?.name ?? null,
    savedWhen: last ? `on ${formatMoment(last.at, business.timeZone, business.locale)}` : 'meanwhile',
  };
}
