import { and, asc, count, desc, eq, gt, inArray, lte, or, sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { mails, orders, people } from '../schema/tables.ts';
import type { Delivery } from './deliver.ts';

export type Mail = typeof mails.$inferSelect;
export type MailState = Mail['state'];

const minute = 60_000;

/** Time to take a step back before anybody has read that it was done. */
export const graceMs = minute;

/** How long to wait after the first try, the second, and so on; the last for all that follow. */
const pausesMs = [1, 5, 15, 60, 180].map((minutes) => minutes * minute);

/** What needs a person: nothing happens to it by itself any more. */
const openStates = ['unsure', 'refused', 'too late'] as const;

/** A mail is written in the transaction of the change it tells of. */
export function addMail(
  tx: Db,
  mail: Omit<
    typeof mails.$inferInsert,
    'id' | 'state' | 'tries' | 'nextTryAt' | 'answer' | 'settledAt' | 'messageId'
  >,
): void {
  const domain = /[\w.-]+$/.exec(mail.toAddress)?.[0] ?? 'localhost';
  tx.insert(mails)
    .values({
      ...mail,
      state: 'waiting',
      nextTryAt: mail.madeAt + graceMs,
      messageId: `<${crypto.randomUUID()}@${domain}>`,
    })
    .run();
}

/** Whether a mail about that step stands in the outbox already, whatever became of it. */
export const isTold = (db: Db, tellsOf: string): boolean =>
  db.select({ id: mails.id }).from(mails).where(eq(mails.tellsOf, tellsOf)).get() !== undefined;

// Written out, so that the database sees that its partial indexes serve.
const isWaiting = sql`${mails.state} = 'waiting'`;
const needsSomebody = sql`${mails.state} IN (${sql.raw(openStates.map((state) => `'${state}'`).join(', '))})`;

/** Those that nobody has handed over in time are not news any more. */
export function giveUpOld(db: Db, now: number): number {
  return db
    .update(mails)
    .set({ state: 'too late', settledAt: now })
    .where(and(isWaiting, lte(mails.giveUpAt, now)))
    .run().changes;
}

/** No pause is as long as a day: what waits longer was put off by a clock that was ahead. */
export function hurryMails(tx: Db, now: number): void {
  tx.update(mails)
    .set({ nextTryAt: now })
    .where(and(isWaiting, gt(mails.nextTryAt, now + 1_440 * minute)))
    .run();
}

/** The next mail whose time has come. */
export function dueMail(db: Db, now: number): Mail | undefined {
  return db
    .select()
    .from(mails)
    .where(and(isWaiting, lte(mails.nextTryAt, now)))
    .orderBy(asc(mails.nextTryAt), asc(mails.id))
    .limit(1)
    .get();
}

/** Written down before the first byte leaves: from now on it may have arrived. False if it was stopped meanwhile. */
export function beginHanding(db: Db, id: number): boolean {
  const changed = db
    .update(mails)
    .set({ state: 'sending' })
    .where(and(eq(mails.id, id), eq(mails.state, 'waiting')))
    .run();
  return changed.changes === 1;
}

/** Keeps how a try ended; one that may be repeated waits longer each time. */
export function settleTry(db: Db, { id, tries }: Pick<Mail, 'id' | 'tries'>, ended: Delivery, now: number) {
  const pause = pausesMs[Math.min(tries, pausesMs.length - 1)] ?? 0;
  const next =
    ended.kind === 'later'
      ? ({ state: 'waiting', nextTryAt: now + pause } as const)
      : { state: ended.kind, settledAt: now };
  db.update(mails)
    .set({ tries: tries + 1, answer: ended.answer, ...next })
    .where(and(eq(mails.id, id), inArray(mails.state, ['waiting', 'sending'])))
    .run();
}

/** At the start: what was being handed over when the service stopped may have arrived or not. */
export function doubtHalfSent(db: Db, now: number): number {
  return db
    .update(mails)
    .set({
      state: 'unsure',
      settledAt: now,
      answer: 'The service stopped while this was being handed over.',
    })
    .where(eq(mails.state, 'sending'))
    .run().changes;
}

/** Stops what was not handed over yet; returns how many. */
export function stopMails(tx: Db, which: { orderId: number; kind: Mail['kind'] }, now: number): number {
  return tx
    .update(mails)
    .set({ state: 'stopped', settledAt: now })
    .where(and(eq(mails.orderId, which.orderId), eq(mails.kind, which.kind), isWaiting))
    .run().changes;
}

export function stopMail(tx: Db, id: number, now: number): boolean {
  const changed = tx
    .update(mails)
    .set({ state: 'stopped', settledAt: now })
    .where(and(eq(mails.id, id), or(isWaiting, needsSomebody)));
  return changed.run().changes === 1;
}

/** Puts a mail that did not go out back into the queue, to the address that the customer has now. */
export function sendAgain(
  tx: Db,
  id: number,
  toAddress: string,
  { now, giveUpAt }: { now: number; giveUpAt: number },
) {
  const changed = tx
    .update(mails)
    .set({ state: 'waiting', tries: 0, nextTryAt: now, giveUpAt, toAddress, settledAt: null, answer: '' })
    .where(and(eq(mails.id, id), or(needsSomebody, eq(mails.state, 'stopped'))))
    .run();
  return changed.changes === 1;
}

const listed = {
  id: mails.id,
  kind: mails.kind,
  state: mails.state,
  subject: mails.subject,
  toName: mails.toName,
  toAddress: mails.toAddress,
  answer: mails.answer,
  tries: mails.tries,
  nextTryAt: mails.nextTryAt,
  madeAt: mails.madeAt,
  settledAt: mails.settledAt,
  orderNumber: orders.number,
} as const;

export function listMails(db: Db, which: { onlyOpen: boolean; limit: number; offset: number }) {
  return db
    .select(listed)
    .from(mails)
    .leftJoin(orders, eq(orders.id, mails.orderId))
    .where(which.onlyOpen ? needsSomebody : undefined)
    .orderBy(desc(mails.id))
    .limit(which.limit)
    .offset(which.offset)
    .all();
}
export type ListedMail = ReturnType<typeof listMails>[number];

export function mailsOfOrder(db: Db, orderId: number): ListedMail[] {
  return db
    .select(listed)
    .from(mails)
    .leftJoin(orders, eq(orders.id, mails.orderId))
    .where(eq(mails.orderId, orderId))
    .orderBy(asc(mails.id))
    .all();
}

/** How many mails wait for a person. */
export function openMails(db: Db): number {
  return db.select({ n: count() }).from(mails).where(needsSomebody).get()?.n ?? 0;
}

export function countMails(db: Db): number {
  return db.select({ n: count() }).from(mails).get()?.n ?? 0;
}

export function readMail(db: Db, id: number) {
  return db
    .select({ mail: mails, orderNumber: orders.number, customerId: orders.customerId, by: people.name })
    .from(mails)
    .leftJoin(orders, eq(orders.id, mails.orderId))
    .leftJoin(people, eq(people.id, mails.madeBy))
    .where(eq(mails.id, id))
    .get();
}
