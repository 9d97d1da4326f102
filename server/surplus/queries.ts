import { and, asc, desc, eq, gt, inArray, isNull, lte, ne, or, type SQL, sql } from 'drizzle-orm';
import type { SurplusFilter } from '../../shared/surplus/filter.ts';
import { isOpen } from '../orders/queries-open.ts';
import type { Db } from '../plumbing/open-database.ts';
import { allocations, cultureEstimates, cultures, lines, places, species } from '../schema/tables.ts';

function promisedByCulture(db: Db) {
  return db
    .select({
      cultureId: allocations.cultureId,
      animals: sql<number>`sum(${allocations.animals})`.as('promised_animals'),
    })
    .from(allocations)
    .where(isOpen)
    .groupBy(allocations.cultureId)
    .as('promised');
}

function conditions(f: SurplusFilter, days: { soon: string; stale: string }): SQL | undefined {
  const e = cultureEstimates;
  const wanted = f.q && `%${f.q.replace(/[\\%_]/g, (c) => `\\${c}`)}%`;
  const show = {
    all: undefined,
    spare: gt(e.spareGroups, 0),
    soon: and(eq(e.spareGroups, 0), lte(e.readyOn, days.soon)),
    held: eq(e.limitedBy, 'health'),
    stale: or(isNull(e.lastCountOn), lte(e.lastCountOn, days.stale)),
  }[f.show];
  return and(
    eq(species.sellable, true),
    ne(cultures.status, 'retired'),
    f.species ? eq(species.id, f.species) : undefined,
    wanted
      ? sql`(${cultures.code} LIKE ${wanted} ESCAPE '\\' OR ${cultures.morph} LIKE ${wanted} ESCAPE '\\' OR ${lines.name} LIKE ${wanted} ESCAPE '\\')`
      : undefined,
    show,
  );
}

function order(f: SurplusFilter): SQL[] {
  const e = cultureEstimates;
  const by = {
    spare: [desc(sql`coalesce(${e.spareGroups}, 0)`), asc(sql`coalesce(${e.readyOn}, '9999')`)],
    animals: [desc(sql`coalesce(${e.median}, -1)`)],
    fullness: [desc(sql`coalesce(${e.fullnessMedian}, -1)`)],
    count: [asc(sql`coalesce(${e.lastCountOn}, '')`)],
    ready: [asc(sql`coalesce(${e.readyOn}, '9999')`)],
    // How common the genes are is not stored; the page orders by it.
    common: [],
    code: [],
  }[f.sort];
  return [asc(species.scientificName), ...by, asc(cultures.code)];
}

/** Every culture that may be sold from, species by species, in the order that is asked for: what sums are made of. */
export function sellableCultures(db: Db, f: SurplusFilter, days: { soon: string; stale: string }) {
  const e = cultureEstimates;
  return db
    .select({
      id: cultures.id,
      speciesId: species.id,
      upper: e.upper,
      capacityMedian: e.capacityMedian,
      spareGroups: sql<number>`coalesce(${e.spareGroups}, 0)`,
      readyOn: e.readyOn,
      asOf: e.asOf,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(e, eq(e.cultureId, cultures.id))
    .where(conditions(f, days))
    .orderBy(...order(f))
    .all();
}
export type SellableCulture = ReturnType<typeof sellableCultures>[number];

/** What is shown of some of them, by their id. */
export function sellableDetails(db: Db, ids: readonly number[]) {
  const promised = promisedByCulture(db);
  const e = cultureEstimates;
  const rows = db
    .select({
      id: cultures.id,
      code: cultures.code,
      morph: cultures.morph,
      line: lines.name,
      place: places.fullName,
      promised: sql<number>`coalesce(${promised.animals}, 0)`,
      fault: e.fault,
      median: e.median,
      lower: e.lower,
      upper: e.upper,
      fullnessMedian: e.fullnessMedian,
      capacityMedian: e.capacityMedian,
      reserve: e.reserve,
      spareGroups: sql<number>`coalesce(${e.spareGroups}, 0)`,
      readyOn: e.readyOn,
      limitedBy: e.limitedBy,
      health: sql<string>`coalesce(${e.health}, 'well')`,
      lastCountOn: e.lastCountOn,
    })
    .from(cultures)
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(e, eq(e.cultureId, cultures.id))
    .leftJoin(promised, eq(promised.cultureId, cultures.id))
    .where(inArray(cultures.id, [...ids]))
    .all();
  return new Map(rows.map((row) => [row.id, row]));
}

/** Species that are sold and kept, for the filter. */
export function sellableSpecies(db: Db) {
  return db
    .selectDistinct({
      id: species.id,
      scientificName: species.scientificName,
      commonName: species.commonName,
    })
    .from(species)
    .innerJoin(cultures, and(eq(cultures.speciesId, species.id), ne(cultures.status, 'retired')))
    .where(eq(species.sellable, true))
    .orderBy(species.scientificName)
    .all();
}
