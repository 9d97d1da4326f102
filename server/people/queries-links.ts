import { and, desc, eq, gt, isNotNull, isNull, lte, or } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { oneTimeLinks } from '../schema/tables.ts';

export type Link = typeof oneTimeLinks.$inferSelect;
export type Purpose = Link['purpose'];

const msPerHour = 3_600_000;

/** How long a link of each kind can be used. */
export const linkHours: Record<Purpose, number> = { 'set-up': 1, invitation: 7 * 24, reset: 24 };

export type NewLink = {
  token: string;
  purpose: Purpose;
  role?: Link['role'];
  name?: string;
  personId?: string;
  madeBy?: string;
  now: number;
};

/** Keeps only the SHA-256 of the token; returns it, as the link's name. */
export function addLink(tx: Db, { token, purpose, now, ...rest }: NewLink): string {
  const tokenHash = sha256(token);
  tx.insert(oneTimeLinks)
    .values({ tokenHash, purpose, madeAt: now, expiresAt: now + linkHours[purpose] * msPerHour, ...rest })
    .run();
  return tokenHash;
}

/** Neither used nor over; one that was made after now belongs to a clock that has gone back since. */
const isOpen = (now: number) =>
  and(isNull(oneTimeLinks.usedAt), gt(oneTimeLinks.expiresAt, now), lte(oneTimeLinks.madeAt, now));

/** The link that a token opens, or null when there is none, it has been used, or its time is over. */
export function openLink(db: Db, purpose: Purpose, token: string, now: number): Link | null {
  if (token === '') return null;
  const which = and(eq(oneTimeLinks.tokenHash, sha256(token)), eq(oneTimeLinks.purpose, purpose));
  return (
    db
      .select()
      .from(oneTimeLinks)
      .where(and(which, isOpen(now)))
      .get() ?? null
  );
}

/** Uses a link up; false when somebody else was quicker. */
export function spendLink(tx: Db, tokenHash: string, now: number): boolean {
  const which = and(eq(oneTimeLinks.tokenHash, tokenHash), isOpen(now));
  return tx.update(oneTimeLinks).set({ usedAt: now }).where(which).run().changes === 1;
}

export function openInvitations(db: Db, now: number): Link[] {
  return db
    .select()
    .from(oneTimeLinks)
    .where(and(eq(oneTimeLinks.purpose, 'invitation'), isOpen(now)))
    .orderBy(desc(oneTimeLinks.madeAt))
    .all();
}

/** Takes an open invitation back; the link that was withdrawn, or null when it was not open any more. */
export function withdrawInvitation(tx: Db, tokenHash: string): Link | null {
  const which = and(
    eq(oneTimeLinks.tokenHash, tokenHash),
    eq(oneTimeLinks.purpose, 'invitation'),
    isNull(oneTimeLinks.usedAt),
  );
  return tx.delete(oneTimeLinks).where(which).returning().get() ?? null;
}

/** A person has at most one reset link that opens: the newest. */
export function withdrawResets(tx: Db, personId: string): void {
  tx.delete(oneTimeLinks)
    .where(and(eq(oneTimeLinks.purpose, 'reset'), eq(oneTimeLinks.personId, personId)))
    .run();
}

/** Takes back every link somebody handed out that nobody has used: they may no longer let others in. */
export function withdrawLinksMadeBy(tx: Db, personId: string): void {
  tx.delete(oneTimeLinks)
    .where(and(eq(oneTimeLinks.madeBy, personId), isNull(oneTimeLinks.usedAt)))
    .run();
}

export function withdrawSetUpLinks(tx: Db): void {
  tx.delete(oneTimeLinks).where(eq(oneTimeLinks.purpose, 'set-up')).run();
}

/** Takes away what was used or is over; returns how many went. */
export function forgetLinks(db: Db, now: number): number {
  return db
    .delete(oneTimeLinks)
    .where(or(isNotNull(oneTimeLinks.usedAt), lte(oneTimeLinks.expiresAt, now)))
    .run().changes;
}
