import { and, eq, inArray, isNotNull, isNull, sql } from 'drizzle-orm';
import type { ExampleCulture } from '../../views/cultures/say-example.ts';
import { isOpen } from '../orders/queries-open.ts';
import type { Db } from '../plumbing/open-database.ts';
import { allocations, cultureEstimates, cultures, species } from '../schema/tables.ts';

const promised = sql<number>`coalesce((SELECT sum(${allocations.animals}) FROM ${allocations}
  WHERE ${allocations.cultureId} = ${cultures.id} AND ${isOpen}), 0)`;

/**
 * The first of these cultures of which something is worked out, with all that its numbers come from: a list reckons
 * them through for that one.
 */
export function exampleOf(db: Db, ids: readonly number[]): ExampleCulture | null {
  const e = cultureEstimates;
  const worked = db
    .select({ id: e.cultureId })
    .from(e)
    .where(and(inArray(e.cultureId, [...ids]), isNull(e.fault), isNotNull(e.median)))
    .all();
  const known = new Set(worked.map(({ id }) => id));
  const id = ids.find((one) => known.has(one));
  if (id === undefined) return null;
  const row = db
    .select({
      code: cultures.code,
      known: {
        median: e.median,
        lower: e.lower,
        upper: e.upper,
        capacityMedian: e.capacityMedian,
        fullnessMedian: e.fullnessMedian,
        reserve: e.reserve,
        promised,
        promisable: e.promisable,
        spareAnimals: e.spareAnimals,
        spareGroups: e.spareGroups,
        limitedBy: e.limitedBy,
        lastCountOn: e.lastCountOn,
      },
      begun: {
        groupAnimals: sql<number>`${species.groupAdults} + ${species.groupJuveniles} + ${species.groupExtras}`,
      },
      species: {
        confidence: species.confidence,
        reserveAnimals: species.reserveAnimals,
        reserveShare: species.reserveShare,
      },
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(e, eq(e.cultureId, cultures.id))
    .where(eq(cultures.id, id))
    .get();
  return row ?? null;
}
