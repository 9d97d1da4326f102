import { and, count, eq, gt, isNotNull, isNull, lte, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { type Person, sha256 } from '../plumbing/sessions.ts';
import { halfSignIns, recoveryCodes, secondFactors, signInRules } from '../schema/tables.ts';
import { stepOf, tidyCode } from './one-time-codes.ts';
import { findPerson, type PersonRow } from './queries.ts';

export type SecondFactor = typeof secondFactors.$inferSelect;
export type WhoMust = (typeof signInRules.$inferSelect)['secondFactor'];

/** A person's secret, confirmed or still being set up. */
export const factorOf = (db: Db, personId: string): SecondFactor | undefined =>
  db.select().from(secondFactors).where(eq(secondFactors.personId, personId)).get();

export const isAsked = (db: Db, personId: string): boolean =>
  typeof factorOf(db, personId)?.confirmedAt === 'number';

export const whoMust = (db: Db): WhoMust =>
  db.select({ who: signInRules.secondFactor }).from(signInRules).get()?.who ?? 'nobody';

export const saveWhoMust = (tx: Db, secondFactor: WhoMust) =>
  tx
    .insert(signInRules)
    .values({ id: 1, secondFactor })
    .onConflictDoUpdate({ target: signInRules.id, set: { secondFactor } })
    .run();

/** Whether the business asks this person for a code at sign-in. */
export function mustHave(db: Db, { role }: Pick<Person, 'role'>): boolean {
  const who = whoMust(db);
  return who === 'everybody' || (who === 'owners' && role === 'owner');
}

/** Whether somebody who is signed in has to set the code up before anything else. */
export const mustSetUp = (db: Db, person: Person): boolean => mustHave(db, person) && !isAsked(db, person.id);

/** A new secret that counts once a code of it was typed; one that is confirmed is not replaced. */
export function beginFactor(tx: Db, personId: string, secret: string, now: number): void {
  tx.delete(secondFactors)
    .where(and(eq(secondFactors.personId, personId), isNull(secondFactors.confirmedAt)))
    .run();
  tx.insert(secondFactors)
    .values({ personId, secret, confirmedAt: null, lastStep: 0, madeAt: now })
    .onConflictDoNothing()
    .run();
}

export function confirmFactor(tx: Db, personId: string, step: number, now: number): boolean {
  const open = and(eq(secondFactors.personId, personId), isNull(secondFactors.confirmedAt));
  return tx.update(secondFactors).set({ confirmedAt: now, lastStep: step }).where(open).run().changes === 1;
}

/** In place of those there were. */
export function keepRecoveryCodes(tx: Db, personId: string, codes: readonly string[], now: number): void {
  tx.delete(recoveryCodes).where(eq(recoveryCodes.personId, personId)).run();
  const rows = codes.map((code) => ({
    codeHash: printOf(personId, code),
    personId,
    usedAt: null,
    madeAt: now,
  }));
  tx.insert(recoveryCodes).values(rows).run();
}

const printOf = (personId: string, code: string) => sha256(`${personId} ${tidyCode(code)}`);

export const recoveryCodesLeft = (db: Db, personId: string): number =>
  db
    .select({ left: count() })
    .from(recoveryCodes)
    .where(and(eq(recoveryCodes.personId, personId), isNull(recoveryCodes.usedAt)))
    .get()?.left ?? 0;

export type UsedCode = 'app' | 'recovery';

/** Uses a code up: one of the app is good once, and none older than it afterwards; a recovery code is good once. */
export function useCode(tx: Db, personId: string, typed: string, now: number): UsedCode | null {
  const code = tidyCode(typed);
  const factor = factorOf(tx, personId);
  if (!factor?.confirmedAt || code.length > 100) return null;
  const step = /^\d{6}$/.test(code) ? stepOf(factor.secret, code, now) : null;
  if (step !== null) {
    const newer = and(eq(secondFactors.personId, personId), sql`${secondFactors.lastStep} < ${step}`);
    return tx.update(secondFactors).set({ lastStep: step }).where(newer).run().changes === 1 ? 'app' : null;
  }
  const open = and(eq(recoveryCodes.codeHash, printOf(personId, code)), isNull(recoveryCodes.usedAt));
  return tx.update(recoveryCodes).set({ usedAt: now }).where(open).run().changes === 1 ? 'recovery' : null;
}

/** Takes everything of it away; false where there was nothing. */
export function removeFactor(tx: Db, personId: string): boolean {
  tx.delete(recoveryCodes).where(eq(recoveryCodes.personId, personId)).run();
  tx.delete(halfSignIns).where(eq(halfSignIns.personId, personId)).run();
  return tx.delete(secondFactors).where(eq(secondFactors.personId, personId)).run().changes === 1;
}

const halfMs = 10 * 60_000;

/** Remembers that somebody told the password and not yet the code. */
export function beginHalf(tx: Db, token: string, person: PersonRow, now: number): void {
  const passwordPrint = sha256(person.passwordHash);
  tx.insert(halfSignIns)
    .values({ tokenHash: sha256(token), personId: person.id, passwordPrint, madeAt: now })
    .run();
}

/** Whose half sign-in a token is, while it is fresh, the account active and the password the same. */
export function halfOf(db: Db, token: string, now: number): PersonRow | null {
  const fresh = and(gt(halfSignIns.madeAt, now - halfMs), lte(halfSignIns.madeAt, now));
  const half = db
    .select()
    .from(halfSignIns)
    .where(and(eq(halfSignIns.tokenHash, sha256(token)), fresh))
    .get();
  const person = half && findPerson(db, half.personId);
  return person?.active && sha256(person.passwordHash) === half?.passwordPrint ? person : null;
}

export const endHalf = (tx: Db, token: string): boolean =>
  tx
    .delete(halfSignIns)
    .where(eq(halfSignIns.tokenHash, sha256(token)))
    .run().changes === 1;

/** Takes away half sign-ins that are over, and used recovery codes of last year. Returns how many went. */
export function forgetHalves(db: Db, now: number): number {
  const over = or(lte(halfSignIns.madeAt, now - halfMs), gt(halfSignIns.madeAt, now + halfMs));
  const used = and(isNotNull(recoveryCodes.usedAt), lte(recoveryCodes.usedAt, now - 365 * 86_400_000));
  return (
    db.delete(halfSignIns).where(over).run().changes + db.delete(recoveryCodes).where(used).run().changes
  );
}
