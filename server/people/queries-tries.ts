import { and, asc, count, eq, gt, inArray, lte, min, or, type SQL } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { knownDevices, people, signInTries } from '../schema/tables.ts';

const msPerHour = 3_600_000;

/** Wrong tries that are allowed: 10 an hour and 50 a week on one account, 50 an hour from one address. */
export const tryLimits = {
  account: [
    { tries: 10, ms: msPerHour },
    { tries: 50, ms: 7 * 24 * msPerHour },
  ],
  address: [{ tries: 50, ms: msPerHour }],
} as const;

type Limit = { tries: number; ms: number };
export type TryLimits = { account: readonly Limit[]; address: readonly Limit[] };

/** Wrong codes of a second factor: five in a quarter of an hour, a guess in 60,000. */
export const codeLimits: TryLimits = {
  account: [
    { tries: 5, ms: 15 * 60_000 },
    { tries: 50, ms: 7 * 24 * msPerHour },
  ],
  address: tryLimits.address,
};

export type Claim = {
  /** Or what else is tried: 'code <id>'. */
  signInName: string;
  /** Whose browser may be known, where it is not somebody's sign-in name that is tried. */
  personId?: string;
  address: string;
  /** The value a known browser sends, if it sends one. */
  knownDevice: string | null;
};

/** A household or a phone has a whole IPv6 network (64 bits) to itself, so that is what counts as one address. */
export function networkOf(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.)/i, '');
  if (!plain.includes(':')) return plain;
  const [head = '', tail = ''] = plain.split('::');
  const first = head === '' ? [] : head.split(':');
  const last = tail === '' ? [] : tail.split(':');
  const zeros = plain.includes('::')
    ? Array<string>(Math.max(0, 8 - first.length - last.length)).fill('0')
    : [];
  return [...first, ...zeros, ...last]
    .slice(0, 4)
    .map((part) => part.replace(/^0+(?=.)/, ''))
    .join(':');
}

function isKnown(db: Db, { signInName, personId, knownDevice }: Claim): boolean {
  if (!knownDevice) return false;
  return (
    db
      .select({ personId: knownDevices.personId })
      .from(knownDevices)
      .innerJoin(people, eq(people.id, knownDevices.personId))
      .where(
        and(
          eq(knownDevices.tokenHash, sha256(knownDevice)),
          personId === undefined ? eq(people.signInName, signInName) : eq(people.id, personId),
        ),
      )
      .get() !== undefined
  );
}

/** When the first of the newest `tries` rows falls out of the window; null when there is room for one more. */
function fullUntil(db: Db, which: SQL | undefined, limit: { tries: number; ms: number }, now: number) {
  const recent = and(which, gt(signInTries.triedAt, now - limit.ms), lte(signInTries.triedAt, now));
  const found = db
    .select({ tries: count(), first: min(signInTries.triedAt) })
    .from(signInTries)
    .where(recent)
    .get();
  if (!found || found.tries < limit.tries) return null;
  const leaving = db
    .select({ triedAt: signInTries.triedAt })
    .from(signInTries)
    .where(recent)
    .orderBy(asc(signInTries.triedAt))
    .offset(found.tries - limit.tries)
    .limit(1)
    .get();
  return (leaving?.triedAt ?? now) + limit.ms;
}

export type Try = { allowed: true; id: number } | { allowed: false; againAt: number };

/**
 * Writes a try down before the password is looked at, so that many at once cannot slip through; a try that turns out
 * right is taken back by `tryWasRight`. A browser that the person has signed in from before has a count of its own:
 * strangers who guess at the account cannot lock it out.
 */
export function beginTry(db: Db, claim: Claim, now: number, limits: TryLimits = tryLimits): Try {
  return db.transaction(
    (tx): Try => {
      const known = isKnown(tx, claim);
      const accountHash = sha256(known ? `${claim.signInName} ${claim.knownDevice}` : claim.signInName);
      const addressHash = sha256(networkOf(claim.address));
      const waits = limits.account.map((limit) =>
        fullUntil(tx, eq(signInTries.accountHash, accountHash), limit, now),
      );
      if (!known) {
        for (const limit of limits.address)
          waits.push(fullUntil(tx, eq(signInTries.addressHash, addressHash), limit, now));
      }
      const againAt = Math.max(0, ...waits.map((wait) => wait ?? 0));
      if (againAt > now) return { allowed: false, againAt };
      const made = tx
        .insert(signInTries)
        .values({ accountHash, addressHash, triedAt: now })
        .returning({ id: signInTries.id })
        .get();
      return { allowed: true, id: made.id };
    },
    { behavior: 'immediate' },
  );
}

/**
 * Somebody proved to be who they say: a row of wrong tries ends here, but those of the last hour go on counting, or
 * strangers would get ten more each time the person signs in. The person's own browser starts anew.
 */
export function tryWasRight(
  tx: Db,
  { signInName, knownDevice }: Claim,
  { id }: { id: number },
  now: number,
): void {
  const before = and(
    eq(signInTries.accountHash, sha256(signInName)),
    lte(signInTries.triedAt, now - msPerHour),
  );
  const own = knownDevice ? eq(signInTries.accountHash, sha256(`${signInName} ${knownDevice}`)) : undefined;
  tx.delete(signInTries)
    .where(or(eq(signInTries.id, id), before, own))
    .run();
}

/** The password was not even looked at, since too many were signing in: that was no try. */
export function takeTryBack(db: Db, { id }: { id: number }): void {
  db.delete(signInTries).where(eq(signInTries.id, id)).run();
}

/** A new password was chosen: no wrong try at the old one counts. */
export function forgetTries(tx: Db, { signInName, knownDevice }: Claim): void {
  const keys = [sha256(signInName), ...(knownDevice ? [sha256(`${signInName} ${knownDevice}`)] : [])];
  tx.delete(signInTries).where(inArray(signInTries.accountHash, keys)).run();
}

/** Takes away tries that no limit looks at any more, and those of a clock that has gone back since. */
export function forgetOldTries(db: Db, now: number): number {
  const longest = Math.max(...tryLimits.account.map((limit) => limit.ms));
  const old = or(lte(signInTries.triedAt, now - longest), gt(signInTries.triedAt, now + msPerHour));
  return db.delete(signInTries).where(old).run().changes;
}

/** Whether anybody has signed in from this browser; a value that nobody was given is worth nothing. */
export function isKnownDevice(db: Db, token: string): boolean {
  const which = eq(knownDevices.tokenHash, sha256(token));
  return db.select({ at: knownDevices.madeAt }).from(knownDevices).where(which).limit(1).get() !== undefined;
}

/** Whether somebody who has signed in elsewhere before does so in this browser for the first time. */
export function isNewDevice(db: Db, personId: string, token: string): boolean {
  const which = eq(knownDevices.personId, personId);
  const theirs = db.select({ hash: knownDevices.tokenHash }).from(knownDevices).where(which).all();
  return theirs.length > 0 && !theirs.some(({ hash }) => hash === sha256(token));
}

/** Remembers the browser of somebody who has just signed in; several people may share one. */
export function rememberDevice(tx: Db, personId: string, token: string, now: number): void {
  tx.insert(knownDevices)
    .values({ tokenHash: sha256(token), personId, madeAt: now, usedAt: now })
    .onConflictDoUpdate({
      target: [knownDevices.tokenHash, knownDevices.personId],
      set: { usedAt: now },
    })
    .run();
}

export function forgetDevicesOf(tx: Db, personId: string): void {
  tx.delete(knownDevices).where(eq(knownDevices.personId, personId)).run();
}
