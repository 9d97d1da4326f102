import { and, desc, eq, gt, lte, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { aheadMs, sessionDays, sha256 } from '../plumbing/sessions.ts';
import { formKeys, knownDevices, sessions } from '../schema/tables.ts';

const msPerDay = 86_400_000;
const inSeconds = (ms: number) => Math.floor(ms / 1000);

export type OpenSession = { id: string; madeAt: number; usedAt: number; device: string };

/** Somebody's open sessions, the newest first. */
export function openSessionsOf(db: Db, personId: string, now: number): OpenSession[] {
  return db
    .select({
      id: sessions.id,
      madeAt: sessions.madeAt,
      usedAt: sql<number>`coalesce(${sessions.usedAt}, ${sessions.madeAt})`,
      device: sessions.device,
    })
    .from(sessions)
    .where(and(eq(sessions.userId, personId), gt(sessions.expiresAt, inSeconds(now))))
    .orderBy(desc(sessions.madeAt))
    .all();
}

/** Ends one session if it is this person's. */
export function endSession(tx: Db, personId: string, sessionId: string): boolean {
  const ours = and(eq(sessions.id, sessionId), eq(sessions.userId, personId));
  return tx.delete(sessions).where(ours).run().changes === 1;
}

/** Takes away sessions that are over, and devices nobody has signed in from for 400 days. Returns how many went. */
export function forgetEndedSessions(db: Db, now: number): number {
  const over = or(
    lte(sessions.expiresAt, inSeconds(now)),
    lte(sessions.madeAt, now - sessionDays.longest * msPerDay),
    gt(sessions.madeAt, now + aheadMs),
  );
  const ended = db.delete(sessions).where(over).run().changes;
  return (
    ended +
    db
      .delete(knownDevices)
      .where(lte(knownDevices.usedAt, now - 400 * msPerDay))
      .run().changes
  );
}

/** The session that a form began last, and how many it began before that one had ended. Only its hash is kept. */
export type Begun = { turn: number; id: string };
export type SignInForm = { personId: string; formKey: string; now: number };

const begunPath = 'session';

export function begunBy(db: Db, { personId, formKey }: SignInForm): Begun | null {
  const which = and(
    eq(formKeys.personId, personId),
    eq(formKeys.path, begunPath),
    eq(formKeys.formKey, formKey),
  );
  const kept = db.select({ outcome: formKeys.outcome }).from(formKeys).where(which).get();
  const begun = kept && (JSON.parse(kept.outcome) as Begun | true);
  // Forms of before only said that they had come.
  return begun === true ? { turn: 0, id: '' } : (begun ?? null);
}

export function keepBegun(tx: Db, { personId, formKey, now }: SignInForm, begun: Begun): void {
  const outcome = JSON.stringify(begun);
  tx.insert(formKeys)
    .values({ personId, formKey, path: begunPath, outcome, madeAt: now })
    .onConflictDoUpdate({ target: [formKeys.personId, formKeys.path, formKeys.formKey], set: { outcome } })
    .run();
}

/** What is good once and let somebody in: a code, a link. Where they were led is kept under its hash. */
export type Proof = { token: string; to: string };
const proofPath = (token: string) => `let in ${sha256(token)}`;
const againMs = 10 * 60_000;

export function keepProof(tx: Db, { personId, formKey, now }: SignInForm, { token, to }: Proof): void {
  tx.insert(formKeys)
    .values({ personId, formKey, path: proofPath(token), outcome: JSON.stringify(to), madeAt: now })
    .onConflictDoNothing()
    .run();
}

/** Whom this very form let in with this very proof in the last ten minutes, as long as the session it began stands. */
export function letInBy(
  db: Db,
  token: string,
  formKey: string,
  now: number,
): { personId: string; to: string } | null {
  const lately = and(gt(formKeys.madeAt, now - againMs), lte(formKeys.madeAt, now));
  const found = db
    .select({ personId: formKeys.personId, to: formKeys.outcome })
    .from(formKeys)
    .where(and(eq(formKeys.path, proofPath(token)), eq(formKeys.formKey, formKey), lately))
    .get();
  const begun = found && begunBy(db, { personId: found.personId, formKey, now });
  if (!begun) return null;
  const stands = openSessionsOf(db, found.personId, now).some(({ id }) => id === begun.id);
  return stands ? { personId: found.personId, to: JSON.parse(found.to) as string } : null;
}
