import { and, asc, eq, ne, sql } from 'drizzle-orm';
import type { KeptSpecies } from '../../shared/climate/limits.ts';
import type { Db } from '../plumbing/open-database.ts';
import { climateSensors, cultures, places, species } from '../schema/tables.ts';

export type ClimatePlace = {
  id: number;
  parentId: number | null;
  kind: string;
  fullName: string;
  retiredAt: number | null;
};

/** All places by their number. */
export function placesById(db: Db): Map<number, ClimatePlace> {
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

/** How many cultures of each species stand right on each place. */
export function speciesByPlace(db: Db) {
  const { scientificName, lethalLowC, safeLowC, safeHighC, lethalHighC } = species;
  return db
    .select({
      placeId: cultures.placeId,
      kept: {
        scientificName,
        lethalLowC,
        safeLowC,
        safeHighC,
        lethalHighC,
        cultures: sql<number>`count(*)`,
      },
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .where(and(ne(cultures.status, 'retired'), sql`${cultures.placeId} IS NOT NULL`))
    .groupBy(cultures.placeId, species.id)
    .all();
}

/** The species whose air is that of a measured place: those that stand there, or in it with nothing nearer measured. */
export function keptByMeasuredPlace(
  db: Db,
  all: ReadonlyMap<number, ClimatePlace>,
  measured: ReadonlySet<number>,
): Map<number, KeptSpecies[]> {
  const byPlace = new Map<number, Map<string, KeptSpecies>>();
  for (const { placeId, kept } of speciesByPlace(db)) {
    const at = measuredAround(all, measured, placeId);
    if (at === null) continue;
    const own = byPlace.get(at) ?? new Map<string, KeptSpecies>();
    const before = own.get(kept.scientificName);
    own.set(kept.scientificName, { ...kept, cultures: kept.cultures + (before?.cultures ?? 0) });
    byPlace.set(at, own);
  }
  return new Map([...byPlace].map(([id, own]) => [id, [...own.values()]]));
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
