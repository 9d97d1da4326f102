import { randomBytes } from 'node:crypto';
import { and, count, eq, gt, isNull, lte } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { linkKey, orderLinks } from '../schema/tables.ts';
import { readHabits } from './queries-habits.ts';
import { readToken, signToken } from './token.ts';

export type OrderLink = typeof orderLinks.$inferSelect;
type By = { personId: string | null; now: number };

const dayMs = 86_400_000;

const secretOf = (db: Db): Buffer | undefined => db.select().from(linkKey).get()?.secret;

/** Made when the first address is: see the decision in DEVELOPERS.md for why it stands beside the data. */
function secretToSign(tx: Db, now: number): Buffer {
  const there = secretOf(tx);
  if (there) return there;
  const secret = randomBytes(32);
  tx.insert(linkKey).values({ id: 1, secret, madeAt: now }).run();
  return secret;
}

/**
 * A new key: no address that was ever given away opens anything any more, and each order has another one from now on.
 * Returns how many still opened something.
 */
export function renewLinkKey(tx: Db, now: number): number {
  const fresh = { secret: randomBytes(32), madeAt: now };
  tx.insert(linkKey)
    .values({ id: 1, ...fresh })
    .onConflictDoUpdate({ target: linkKey.id, set: fresh })
    .run();
  const isOpen = and(isNull(orderLinks.endedAt), gt(orderLinks.expiresAt, now));
  return tx.select({ n: count() }).from(orderLinks).where(isOpen).get()?.n ?? 0;
}

/** The address of an order that was not ended; it may have run out. */
export const linkOf = (db: Db, orderId: number): OrderLink | undefined =>
  db
    .select()
    .from(orderLinks)
    .where(and(eq(orderLinks.orderId, orderId), isNull(orderLinks.endedAt)))
    .get();

/** Whether an order ever had an address, also one that opens nothing any more. */
export const hadLink = (db: Db, orderId: number): boolean =>
  db.select({ id: orderLinks.id }).from(orderLinks).where(eq(orderLinks.orderId, orderId)).get() !==
  undefined;

/** Ends an order's address at once; whether there was one. */
export function endLink(tx: Db, orderId: number, by: By): boolean {
  const isOpen = and(eq(orderLinks.orderId, orderId), isNull(orderLinks.endedAt));
  return tx.update(orderLinks).set({ endedAt: by.now, endedBy: by.personId }).where(isOpen).run().changes > 0;
}

/** Ends for good every address that had run out by then. */
export function endLinksOver(tx: Db, at: number): void {
  tx.update(orderLinks)
    .set({ endedAt: at })
    .where(and(isNull(orderLinks.endedAt), lte(orderLinks.expiresAt, at)))
    .run();
}

/** A new address for an order; the one before stops. */
export function renewLink(
  tx: Db,
  { id, dispatchOn }: { id: number; dispatchOn: string | null },
  by: By,
): OrderLink {
  secretToSign(tx, by.now);
  endLink(tx, id, by);
  const leavesAt = dispatchOn === null ? by.now : Date.parse(`${dispatchOn}T00:00:00Z`);
  const until = Math.max(by.now, leavesAt) + readHabits(tx).linkDays * dayMs;
  return tx
    .insert(orderLinks)
    .values({
      orderId: id,
      nonce: randomBytes(8),
      expiresAt: Math.floor(until / 1000) * 1000,
      madeBy: by.personId,
      madeAt: by.now,
    })
    .returning()
    .get();
}

/** Makes an order's address if none still opens its page. Call it in the transaction of the step that needs it. */
export function ensureLink(tx: Db, order: { id: number; dispatchOn: string | null }, by: By): OrderLink {
  const there = linkOf(tx, order.id);
  return there && there.expiresAt > by.now ? there : renewLink(tx, order, by);
}

/**
 * The address of the customer's page of an order, such as https://bench.example.org/o/..., null while it has none that
 * still opens anything. Reads only. `base` is the service's own address (ownAddress).
 */
export function addressOfOrder(
  db: Db,
  orderId: number,
  { base, now }: { base: string; now: number },
): string | null {
  const link = linkOf(db, orderId);
  const secret = link && secretOf(db);
  if (!link || !secret || link.expiresAt <= now) return null;
  return `${base}/o/${signToken(secret, link)}`;
}

/** The address that a token is of, if it was signed here, not ended and has not run out. */
export function linkByToken(db: Db, token: string, now: number): OrderLink | null {
  const secret = secretOf(db);
  const said = secret ? readToken(secret, token) : null;
  if (!said || said.expiresAt <= now) return null;
  const link = db.select().from(orderLinks).where(eq(orderLinks.nonce, said.nonce)).get();
  if (!link || link.endedAt !== null) return null;
  return link.orderId === said.orderId && link.expiresAt === said.expiresAt ? link : null;
}
