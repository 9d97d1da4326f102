import { and, desc, eq, gt, lte, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { aheadMs, sessionDays } from '../plumbing/sessions.ts';
import { knownDevices, sessions } from '../schema/tables.ts';

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
