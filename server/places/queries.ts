import { and, asc, eq, inArray, isNull, ne, sql } from 'drizzle-orm';
import type { PlaceKind } from '../../shared/places/form.ts';
import { walkingOrder } from '../../shared/places/walking-order.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, places } from '../schema/tables.ts';

export type Place = typeof places.$inferSelect;

/** All places in walking order, with the cultures that stand right on each. */
export function listPlaces(db: Db) {
  return db
    .select({
      place: places,
      // Written out: inside a select of one table the columns would lose the names of their tables.
      cultures: sql<number>`(SELECT count(*) FROM cultures
        WHERE cultures.place_id = places.id AND cultures.status <> 'retired')`,
    })
    .from(places)
    .orderBy(asc(places.shelfOrder), asc(places.id))
    .all();
}

export function readPlace(db: Db, id: number): Place | undefined {
  return db.select().from(places).where(eq(places.id, id)).get();
}

export function childrenOf(db: Db, parentId: number | null): Place[] {
  return db
    .select()
    .from(places)
    .where(parentId === null ? isNull(places.parentId) : eq(places.parentId, parentId))
    .orderBy(asc(places.shelfOrder), asc(places.id))
    .all();
}

/** The place and all that stands in it, at any depth. */
export function subtreeOf(db: Db, id: number): Place[] {
  const found: Place[] = [];
  let level = db.select().from(places).where(eq(places.id, id)).all();
  while (level.length > 0) {
    found.push(...level);
    const ids = level.map((p) => p.id);
    level = db.select().from(places).where(inArray(places.parentId, ids)).all();
  }
  return found;
}

/** Codes of the cultures kept on any of these places. */
export function culturesOn(db: Db, placeIds: readonly number[]): string[] {
  return db
    .select({ code: cultures.code })
    .from(cultures)
    .where(and(inArray(cultures.placeId, [...placeIds]), ne(cultures.status, 'retired')))
    .orderBy(asc(cultures.code))
    .all()
    .map((c) => c.code);
}

export type NewPlace = {
  kind: PlaceKind;
  name: string;
  parentId: number | null;
  importId?: number | null;
};

/** Comes last among its siblings. Call orderPlaces when all are in. */
export function insertPlace(tx: Db, place: NewPlace): number {
  return tx
    .insert(places)
    .values({ ...place, fullName: place.name, shelfOrder: '' })
    .returning({ id: places.id })
    .get().id;
}

export function updatePlace(
  tx: Db,
  id: number,
  values: Partial<Pick<Place, 'name' | 'parentId' | 'shelfOrder'>>,
) {
  tx.update(places).set(values).where(eq(places.id, id)).run();
}

export function setPlacesRetired(tx: Db, ids: readonly number[], retiredAt: number | null) {
  tx.update(places)
    .set({ retiredAt })
    .where(inArray(places.id, [...ids]))
    .run();
}

/** Writes the walking order and the full names anew, after anything was added, renamed or moved. */
export function orderPlaces(tx: Db) {
  const all = tx.select().from(places).all();
  const before = new Map(all.map((place) => [place.id, place]));
  for (const { id, fullName, shelfOrder } of walkingOrder(all)) {
    const was = before.get(id);
    if (was?.fullName === fullName && was.shelfOrder === shelfOrder) continue;
    tx.update(places).set({ fullName, shelfOrder }).where(eq(places.id, id)).run();
  }
}
