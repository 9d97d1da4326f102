import { and, asc, desc, eq, inArray, sql } from 'drizzle-orm';
import type { Stock } from '../../shared/orders/make-up.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates, cultures, lines, places, species } from '../schema/tables.ts';

// Named in full: a column of the outer query loses its table's name inside a subquery.
const promised = sql<number>`(SELECT coalesce(sum(a.animals), 0) FROM allocations a
  WHERE a.culture_id = cultures.id AND a.state = 'reserved')`;

const columns = {
  id: cultures.id,
  code: cultures.code,
  speciesId: cultures.speciesId,
  scientificName: species.scientificName,
  femaleShare: species.femaleShare,
  effectiveRatio: species.effectiveRatio,
  status: cultures.status,
  lineId: cultures.lineId,
  line: lines.name,
  place: places.fullName,
  asOf: cultureEstimates.asOf,
  median: cultureEstimates.median,
  lower: cultureEstimates.lower,
  upper: cultureEstimates.upper,
  lastCountOn: cultureEstimates.lastCountOn,
  readyOn: cultureEstimates.readyOn,
  limitedBy: cultureEstimates.limitedBy,
  promisable: sql<number>`coalesce(${cultureEstimates.promisable}, 0)`,
  spareGroups: sql<number>`coalesce(${cultureEstimates.spareGroups}, 0)`,
  promised,
};

const withEstimates = (db: Db) =>
  db
    .select(columns)
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId));

/** A culture as somebody sees it who looks for animals to promise. */
export type StockRow = ReturnType<typeof stockOfSpecies>[number];

/** The cultures of a species that may be sold from, those that can spare most first. */
export function stockOfSpecies(db: Db, speciesId: number, limit: number) {
  return withEstimates(db)
    .where(and(eq(cultures.speciesId, speciesId), eq(cultures.status, 'active')))
    .orderBy(desc(sql`coalesce(${cultureEstimates.spareGroups}, 0)`), asc(cultures.code))
    .limit(limit)
    .all();
}

/** The same cultures with nothing but what they can spare and when: for sums over all of them. */
export function spareOfSpecies(db: Db, speciesId: number): (Stock & { readyOn: string | null })[] {
  const { promisable, spareGroups, readyOn } = columns;
  return db
    .select({ promisable, promised, spareGroups, readyOn })
    .from(cultures)
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(and(eq(cultures.speciesId, speciesId), eq(cultures.status, 'active')))
    .all();
}

export function stockOfCultures(db: Db, ids: readonly number[]): Map<number, StockRow> {
  if (ids.length === 0) return new Map();
  const rows = withEstimates(db)
    .where(inArray(cultures.id, [...ids]))
    .all();
  return new Map(rows.map((row) => [row.id, row]));
}

export function stockByCode(db: Db, code: string): StockRow | undefined {
  return withEstimates(db).where(eq(cultures.code, code)).get();
}

export const stockOf = (row: StockRow): Stock => ({
  promisable: row.promisable,
  promised: row.promised,
  spareGroups: row.spareGroups,
});
