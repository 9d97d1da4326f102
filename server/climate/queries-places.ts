import { and, asc, eq, inArray, ne, sql } from 'drizzle-orm';
import type { KeptSpecies } from '../../shared/climate/limits.ts';
import { type Mark, touchedSince } from '../cultures/queries-touched.ts';
import type { Db } from '../plumbing/open-database.ts';
import { climateSensors, cultures, places, species } from '../schema/tables.ts';

export type ClimatePlace = {
  id: number;
  parentId: number | null;
  kind: string;
  fullName: string;
  retiredAt: number | null;
};

type KeptPlaces = { mark: Mark; byId: ReadonlyMap<number, ClimatePlace> };
const keptPlaces = new WeakMap<Db, KeptPlaces>();

/** All places by their number; read again once one of them was written. */
export function placesById(db: Db): ReadonlyMap<number, ClimatePlace> {
  const before = keptPlaces.get(db);
  const { mark, cultures: touched } = touchedSince(db, before?.mark ?? null);
  const byId = before && touched !== 'all' ? before.byId : readPlaces(db);
  keptPlaces.set(db, { mark, byId });
  return byId;
}

function readPlaces(db: Db): ReadonlyMap<number, ClimatePlace> {
  const { id, parentId, kind, fullName, retiredAt } = places;
  const rows = db
    .select({ id, parentId, kind, fullName, retiredAt })
    .from(places)
    .orderBy(asc(places.shelfOrder), asc(places.id))
    .all();
  return new Map(rows.map((row) => [row.id, row]));
}

/** The place itself or the nearest one around it that is measured. */
export function measuredAround(
  all: ReadonlyMap<number, ClimatePlace>,
  measured: ReadonlySet<number>,
  placeId: number | null,
): number | null {
  let at = placeId;
  // Rooms hold racks, racks shelves, shelves positions: four steps, and never a circle.
  for (let step = 0; at !== null && step < 8; step += 1) {
    if (measured.has(at)) return at;
    at = all.get(at)?.parentId ?? null;
  }
  return null;
}

/** Where the cultures that are kept stand, and what air their species bear. */
function placedCultures(db: Db, ids?: readonly number[]) {
  const { scientificName, lethalLowC, safeLowC, safeHighC, lethalHighC } = species;
  return db
    .select({
      id: cultures.id,
      placeId: cultures.placeId,
      kept: { scientificName, lethalLowC, safeLowC, safeHighC, lethalHighC },
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .where(
      and(
        ne(cultures.status, 'retired'),
        sql`${cultures.placeId} IS NOT NULL`,
        ids && inArray(cultures.id, [...ids]),
      ),
    )
    .all();
}
type Placed = ReturnType<typeof placedCultures>[number];
type ByPlace = ReadonlyMap<number, KeptSpecies[]>;
/** What was found the last time, and for which places. */
type Found = { all: ReadonlyMap<number, ClimatePlace>; measured: string; byPlace: ByPlace };
type KeptPlaced = { mark: Mark; placed: readonly Placed[]; found: Found | null };

const keptPlaced = new WeakMap<Db, KeptPlaced>();
/** Asked for one by one; where more were touched, all are read again. */
const mostOneByOne = 100;

/** Whether these cultures stand where they stood: most of what is written of a culture does not move it. */
function standAsBefore(db: Db, placed: readonly Placed[], ids: ReadonlySet<number>): boolean {
  const before = new Map(placed.filter(({ id }) => ids.has(id)).map((one) => [one.id, JSON.stringify(one)]));
  const now = placedCultures(db, [...ids]);
  return now.length === before.size && now.every((one) => before.get(one.id) === JSON.stringify(one));
}

function whereTheyStand(db: Db): KeptPlaced {
  const before = keptPlaced.get(db);
  const { mark, cultures: touched } = touchedSince(db, before?.mark ?? null);
  const holds =
    before !== undefined &&
    touched !== 'all' &&
    touched.size <= mostOneByOne &&
    (touched.size === 0 || standAsBefore(db, before.placed, touched));
  const now = holds ? { ...before, mark } : { mark, placed: placedCultures(db), found: null };
  keptPlaced.set(db, now);
  return now;
}

/**
 * The species whose air is that of a measured place: those that stand there, or in it with nothing nearer measured.
 * The same as the last time until a culture moves, comes or goes, or a species bears other air.
 */
export function keptByMeasuredPlace(
  db: Db,
  all: ReadonlyMap<number, ClimatePlace>,
  measured: ReadonlySet<number>,
): ByPlace {
  const stand = whereTheyStand(db);
  const key = [...measured].join(' ');
  if (stand.found?.all === all && stand.found.measured === key) return stand.found.byPlace;
  const byPlace = new Map<number, Map<string, KeptSpecies>>();
  for (const { placeId, kept } of stand.placed) {
    const at = measuredAround(all, measured, placeId);
    if (at === null) continue;
    const own = byPlace.get(at) ?? new Map<string, KeptSpecies>();
    const cultures = (own.get(kept.scientificName)?.cultures ?? 0) + 1;
    byPlace.set(at, own.set(kept.scientificName, { ...kept, cultures }));
  }
  const found = new Map([...byPlace].map(([id, own]) => [id, [...own.values()]]));
  stand.found = { all, measured: key, byPlace: found };
  return found;
}

export type Sensor = typeof climateSensors.$inferSelect;

export function sensorsOf(db: Db, placeId: number): Sensor[] {
  return db
    .select()
    .from(climateSensors)
    .where(eq(climateSensors.placeId, placeId))
    .orderBy(asc(climateSensors.name))
    .all();
}

export function sensorByToken(db: Db, tokenHash: string): Sensor | undefined {
  const sensor = db.select().from(climateSensors).where(eq(climateSensors.tokenHash, tokenHash)).get();
  return sensor?.retiredAt === null ? sensor : undefined;
}

export function sensorById(db: Db, id: number): Sensor | undefined {
  return db.select().from(climateSensors).where(eq(climateSensors.id, id)).get();
}

export function sensorNamed(db: Db, name: string): Sensor | undefined {
  return db.select().from(climateSensors).where(eq(climateSensors.name, name)).get();
}

export function addSensor(tx: Db, values: Omit<typeof climateSensors.$inferInsert, 'id'>): number {
  return tx.insert(climateSensors).values(values).returning({ id: climateSensors.id }).get().id;
}

export function retireSensor(tx: Db, id: number, retiredAt: number) {
  tx.update(climateSensors).set({ retiredAt }).where(eq(climateSensors.id, id)).run();
}
