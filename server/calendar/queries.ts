import { and, asc, eq, gte, inArray, isNull, lte, ne, sql } from 'drizzle-orm';
import type { Day } from '../../shared/days.ts';
import type { Db } from '../plumbing/open-database.ts';
import { calendarFeeds, cultures, diary, orders, people, places } from '../schema/tables.ts';

export type Feed = typeof calendarFeeds.$inferSelect;

const isOpen = isNull(calendarFeeds.endedAt);

/** The calendar of somebody who has one. */
export function feedOf(db: Db, personId: string): Feed | undefined {
  return db
    .select()
    .from(calendarFeeds)
    .where(and(eq(calendarFeeds.personId, personId), isOpen))
    .get();
}

/** The calendar that a token opens: not after it was ended, nor for somebody who may not sign in any more. */
export function feedByHash(db: Db, tokenHash: string): Feed | undefined {
  return db
    .select({ feed: calendarFeeds })
    .from(calendarFeeds)
    .innerJoin(people, eq(people.id, calendarFeeds.personId))
    .where(and(eq(calendarFeeds.tokenHash, tokenHash), isOpen, eq(people.active, true)))
    .get()?.feed;
}

/** Nobody has more than one: the address before stops at once. Whether there was one. */
export function endFeedOf(tx: Db, personId: string, endedAt: number): boolean {
  const isTheirs = and(eq(calendarFeeds.personId, personId), isOpen);
  return tx.update(calendarFeeds).set({ endedAt }).where(isTheirs).run().changes > 0;
}

export function addFeed(tx: Db, feed: Pick<Feed, 'personId' | 'tokenHash' | 'madeAt'>): number {
  endFeedOf(tx, feed.personId, feed.madeAt);
  return tx.insert(calendarFeeds).values(feed).returning({ id: calendarFeeds.id }).get().id;
}

export const noteUse = (db: Db, id: number, usedAt: number) =>
  db.update(calendarFeeds).set({ usedAt }).where(eq(calendarFeeds.id, id)).run();

export type Room = { id: number; name: string };

/** The room that each kept culture stands in: the topmost place above it. */
export function roomsByCulture(db: Db): ReadonlyMap<number, Room> {
  const all = db.select({ id: places.id, parentId: places.parentId, name: places.name }).from(places).all();
  const byId = new Map(all.map((place) => [place.id, place]));
  const roomOf = (placeId: number): Room | null => {
    let place = byId.get(placeId);
    // No way up is longer than there are places.
    for (let steps = all.length; place && place.parentId !== null && steps > 0; steps -= 1)
      place = byId.get(place.parentId);
    return place ? { id: place.id, name: place.name } : null;
  };
  const rooms = new Map<number, Room>();
  const standing = db
    .select({ id: cultures.id, placeId: cultures.placeId })
    .from(cultures)
    .where(ne(cultures.status, 'retired'))
    .all();
  for (const { id, placeId } of standing) {
    const room = placeId === null ? null : roomOf(placeId);
    if (room) rooms.set(id, room);
  }
  return rooms;
}

/** How many orders are to be packed on each day of a span; nothing is said of whose they are. */
export function packingDays(db: Db, from: Day, until: Day) {
  return db
    .select({
      onDay: sql<Day>`${orders.dispatchOn}`,
      drafts: sql<number>`sum(${orders.state} = 'draft')`,
      confirmed: sql<number>`sum(${orders.state} = 'confirmed')`,
      packed: sql<number>`sum(${orders.state} = 'packed')`,
      changedAt: sql<number>`max(max(${orders.madeAt},
        coalesce((SELECT max(h.made_at) FROM order_history h WHERE h.order_id = ${orders.id}), 0)))`,
    })
    .from(orders)
    .where(
      and(
        gte(orders.dispatchOn, from),
        lte(orders.dispatchOn, until),
        inArray(orders.state, ['draft', 'confirmed', 'packed']),
      ),
    )
    .groupBy(orders.dispatchOn)
    .orderBy(asc(orders.dispatchOn))
    .all();
}

/** When something was last written into any diary. */
export const lastWritten = (db: Db): number =>
  db.select({ at: diary.madeAt }).from(diary).orderBy(sql`${diary.id} DESC`).limit(1).get()?.at ?? 0;
